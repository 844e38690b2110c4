import { defineConfig } from 'vite';

// Few files: the first load, each language, and two rooms that follow at once (src/page/shell/later.tsx says why that is safe).
export default defineConfig({
  root: import.meta.dirname,
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    target: 'es2022',
    outDir: 'dist',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    cssCodeSplit: false,
    modulePreload: { polyfill: false },
    sourcemap: false,
  },
  server: { host: '127.0.0.1', proxy: { '/api': 'http://127.0.0.1:8321' } },
});
