// Page, then service worker, then the list of files the worker keeps; prints and caps the script of the first load.
import { mkdirSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { build } from 'vite';
import { injectManifest } from 'workbox-build';

const root = resolve(import.meta.dirname, '..');
const dist = join(root, 'dist');
const workerOut = join(root, '.dev-dist');
const capBytes = 90_000;

await build({ configFile: join(root, 'vite.config.ts'), logLevel: 'warn' });

mkdirSync(workerOut, { recursive: true });
await build({
  configFile: false,
  root,
  publicDir: false,
  logLevel: 'warn',
  define: { 'process.env.NODE_ENV': '"production"' },
  build: {
    target: 'es2022',
    outDir: workerOut,
    emptyOutDir: true,
    lib: { entry: join(root, 'src/sw/main.ts'), formats: ['iife'], name: 'worker', fileName: () => 'sw.js' },
  },
});

const { count, size, warnings } = await injectManifest({
  swSrc: join(workerOut, 'sw.js'),
  swDest: join(dist, 'sw.js'),
  globDirectory: dist,
  globPatterns: ['index.html', 'manifest.webmanifest', 'assets/*.{js,css,woff2}', 'icons/*.{svg,png}'],
  dontCacheBustURLsMatching: /assets\//,
});
rmSync(workerOut, { recursive: true });
for (const warning of warnings) console.warn(warning);
console.log(`precached: ${count} files, ${size} bytes`);

const packed = (file) => {
  const bytes = readFileSync(file);
  return { raw: bytes.length, gzip: gzipSync(bytes, { level: 9 }).length, brotli: brotliCompressSync(bytes).length };
};
const page = readFileSync(join(dist, 'index.html'), 'utf8');
const assets = readdirSync(join(dist, 'assets'));
const scripts = assets.filter((name) => name.endsWith('.js'));
let firstLoad = 0;
for (const name of assets) {
  const { raw, gzip, brotli } = packed(join(dist, 'assets', name));
  const isFirst = name.endsWith('.js') && page.includes(name);
  if (isFirst) firstLoad += gzip;
  console.log(`${name}: ${raw} bytes, gzip ${gzip}, brotli ${brotli}${isFirst ? ' (first load)' : ''}`);
}
const worker = packed(join(dist, 'sw.js'));
console.log(`sw.js: ${worker.raw} bytes, gzip ${worker.gzip}, brotli ${worker.brotli}`);
console.log(`first-load script, gzip: ${firstLoad} of ${capBytes} bytes`);
if (scripts.length !== 1) {
  console.error(`one script is wanted, ${scripts.length} were made: no lazy chunks`);
  process.exit(1);
}
if (firstLoad > capBytes) {
  console.error('the first load is over its cap');
  process.exit(1);
}
