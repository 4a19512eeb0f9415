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
  },
});
