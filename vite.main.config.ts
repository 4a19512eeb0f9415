import { defineConfig } from 'vite';

/** The packed app's main process: one file, so that no folder of modules need be packed. `npm start` runs the unbundled one. */
export default defineConfig({
  root: import.meta.dirname,
  publicDir: false,
  ssr: { noExternal: true },
  build: {
    ssr: 'electron/main.ts',
    outDir: 'dist/app',
    emptyOutDir: true,
    target: 'node22',
    minify: false,
    rolldownOptions: { external: ['electron'], output: { entryFileNames: 'main.js' } },
  },
});
