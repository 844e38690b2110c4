// Engine, page, then service worker, then the list of files the worker keeps; prints and caps the script of the first load.
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { build } from 'vite';
import { injectManifest } from 'workbox-build';
import { buildEngine } from './engine.mjs';

const root = resolve(import.meta.dirname, '..');
const dist = join(root, 'dist');
const workerOut = join(root, '.dev-dist');
const capBytes = 90_000;

const engine = await buildEngine(root);
const built = await build({ configFile: join(root, 'vite.config.ts'), logLevel: 'warn', define: { __ENGINE__: JSON.stringify(engine.manifest) } });

preloadFirst(join(dist, 'index.html'), [built].flat().flatMap(({ output }) => output).filter(({ type }) => type === 'chunk'));

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

engine.place(dist);
for (const { path, bytes } of engine.manifest.files) console.log(`${path}: ${bytes} bytes`);
console.log(`engine, apart from the shell: ${engine.manifest.files.reduce((sum, { bytes }) => sum + bytes, 0)} bytes`);

const packed = (file) => {
  const bytes = readFileSync(file);
  return { raw: bytes.length, gzip: gzipSync(bytes, { level: 9 }).length, brotli: brotliCompressSync(bytes).length };
};
const page = readFileSync(join(dist, 'index.html'), 'utf8');
let always = 0;
let total = 0;
for (const name of readdirSync(join(dist, 'assets'))) {
  const { raw, gzip, brotli } = packed(join(dist, 'assets', name));
  const isScript = name.endsWith('.js');
  const isFirst = isScript && page.includes(name);
  if (isFirst) always += gzip;
  if (isScript) total += gzip;
  const when = isFirst ? ' (first load)' : isScript ? ' (follows at once)' : '';
  console.log(`${name}: ${raw} bytes, gzip ${gzip}, brotli ${brotli}${when}`);
}
const worker = packed(join(dist, 'sw.js'));
console.log(`sw.js: ${worker.raw} bytes, gzip ${worker.gzip}, brotli ${worker.brotli}`);
console.log(`all page script, both languages, gzip: ${total} bytes`);
console.log(`first-load script, gzip, both languages' first words: ${always} of ${capBytes} bytes`);

// beside each text file its packed form, which the server sends to those who take it
for (const name of readdirSync(dist, { recursive: true }).map(String)) {
  if (!/\.(js|css|html|svg|webmanifest)$/.test(name)) continue;
  writeFileSync(join(dist, `${name}.gz`), gzipSync(readFileSync(join(dist, name)), { level: 9 }));
}

/**
 * What the first script will want is asked for with it, not after it has run: all that the app's own script imports,
 * and the first words of both languages, for it can't know which.
 */
function preloadFirst(page, chunks) {
  const byFile = new Map(chunks.map((chunk) => [chunk.fileName, chunk]));
  const wanted = new Set();
  const want = (file) => {
    if (wanted.has(file)) return;
    wanted.add(file);
    byFile.get(file)?.imports.forEach(want);
  };
  for (const { fileName, facadeModuleId } of chunks) if (/\/(main\.tsx|words\/(en|es)\/first\.ts)$/.test(facadeModuleId ?? '') || /first-(en|es)-/.test(fileName)) want(fileName);
  const html = readFileSync(page, 'utf8');
  const links = [...wanted].filter((file) => !html.includes(file)).map((file) => `    <link rel="modulepreload" crossorigin href="/${file}">\n`);
  writeFileSync(page, html.replace('  </head>', `${links.join('')}  </head>`));
}

if (always > capBytes) {
  console.error('the first load is over its cap');
  process.exit(1);
}
