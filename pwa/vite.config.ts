import { defineConfig } from 'vite';

type Info = (id: string) => { readonly importers: readonly string[] } | null;

/** Whether the app's own start brings this module in by itself, without asking for it later. */
function isFirst(id: string, info: Info, seen: Set<string> = new Set()): boolean {
  if (id.endsWith('/page/main.tsx')) return true;
  if (seen.has(id)) return false;
  seen.add(id);
  return info(id)?.importers.some((one) => isFirst(one, info, seen)) ?? false;
}

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
    // What the first screens say goes by its language, so that its weight can be told (scripts/build.mjs).
    rolldownOptions: { output: { codeSplitting: { groups: [
      { debugName: 'first words', test: /words[\\/](en|es)[\\/](first|shell|look|now|engine|signal|trouble)\.ts$/, name: (id) => `first-${/[\\/]es[\\/]/.test(id) ? 'es' : 'en'}` },
      { debugName: 'first load', name: (id, graph) => (isFirst(id, (one) => graph.getModuleInfo(one)) ? 'main' : null) },
    ] } } },
    sourcemap: false,
  },
  server: { host: '127.0.0.1', proxy: { '/api': 'http://127.0.0.1:8321' } },
});
