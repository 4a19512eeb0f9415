import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** The window. Everything is a file of its own beside the page: its content policy allows nothing inline. */
export default defineConfig({
  root: `${import.meta.dirname}/renderer`,
  base: './',
  plugins: [react()],
  build: {
    outDir: '../dist/renderer',
    emptyOutDir: true,
    target: 'chrome120',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      // What is pure may go where it is used: advice and ± with the Debrief, which is loaded after Set-up.
      treeshake: { moduleSideEffects: (id) => !id.includes('/machines/') },
      // A file of its own, or the warning of a large one would be about React and say nothing of ours.
      output: {
        codeSplitting: { groups: [{ name: 'react', test: /node_modules\/(react|react-dom|scheduler)\// }] },
      },
    },
  },
});
