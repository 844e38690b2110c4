import { defineConfig } from 'vite';

// One bundle, no lazy chunks: a phone that updates between two taps must never ask for a file that is gone.
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
    modulePreload: false,
    sourcemap: false,
    rolldownOptions: { output: { codeSplitting: false } },
  },
  server: { host: '127.0.0.1', proxy: { '/api': 'http://127.0.0.1:8321' } },
});
