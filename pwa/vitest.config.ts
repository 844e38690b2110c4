import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

const here = import.meta.dirname;
const inTests = resolve(here, '../tests/pwa');
const isBare = (name: string): boolean => /^[@a-z]/i.test(name) && !name.startsWith('node:');

// The tests live outside pwa/, where no node_modules is in reach: their bare imports are looked up from here.
export default defineConfig({
  root: here,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [
    {
      name: 'bare-imports-from-pwa',
      enforce: 'pre',
      async resolveId(source, importer) {
        if (!importer?.startsWith(inTests) || !isBare(source)) return null;
        return this.resolve(source, resolve(here, 'src/page/main.tsx'), { skipSelf: true });
      },
    },
  ],
  server: { fs: { allow: [resolve(here, '..')] } },
  test: {
    include: ['../tests/pwa/**/*.test.{ts,tsx}'],
    environment: 'node',
    maxWorkers: 2,
    restoreMocks: true,
    setupFiles: [resolve(here, '../tests/pwa/setup.ts')],
  },
});
