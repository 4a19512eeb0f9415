import { defineConfig } from 'vite';

/** A sandboxed preload script can load neither modules nor split chunks: it is built to one CommonJS file. */
export default defineConfig({
  root: import.meta.dirname,
  publicDir: false,
  build: {
    outDir: 'dist/electron',
    emptyOutDir: false,
    target: 'chrome140',
    minify: false,
    lib: { entry: 'electron/preload.ts', formats: ['cjs'], fileName: () => 'preload.cjs' },
    rolldownOptions: { external: ['electron'] },
  },
});
