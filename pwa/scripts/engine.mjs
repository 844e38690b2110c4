// The engine for the phone: a Python runtime, our own Python files, the time zones and the worker that runs them, each under
// an address that holds the hash of its bytes. The page keeps them in a cache of their own, apart from the shell.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';

const runtimeFiles = ['pyodide.mjs', 'pyodide.asm.mjs', 'pyodide.asm.wasm', 'python_stdlib.zip'];
const worthPacking = /\.(m?js|wasm)$|slabtide\.zip$|\.wasm\.\d+\.part$/;
const pieceBytes = 1_000_000;

/** Builds the engine's files. Gives the list the page is built with, and what puts the files into a built app. */
export async function buildEngine(root) {
  const made = join(root, '.dev-engine');
  rmSync(made, { recursive: true, force: true });
  mkdirSync(made, { recursive: true });
  packPython(root, made);
  await buildWorker(root, made);
  const sources = new Map();
  const runtime = join(root, 'node_modules/pyodide');
  const mark = hash(runtimeFiles.map((name) => hash(readFileSync(join(runtime, name)))).join()).slice(0, 12);
  for (const name of runtimeFiles) sources.set(`/engine/${mark}/${name}`, join(runtime, name));
  const single = (name) => {
    const source = join(made, name);
    const path = `/engine/${hash(readFileSync(source)).slice(0, 12)}/${name}`;
    sources.set(path, source);
    return path;
  };
  const [code, zones, worker] = ['slabtide.zip', 'tzdata.zip', 'worker.js'].map(single);
  const files = [...sources].map(([path, source]) => ({ ...told(path, readFileSync(source)), ...inPieces(path, readFileSync(source), made) }));
  for (const { pieces = [] } of files) for (const { path } of pieces) sources.set(path, join(made, basename(path)));
  return {
    manifest: { runtime: `/engine/${mark}/`, code, zones, worker, files },
    place(dist) {
      for (const [path, source] of sources) placeFile(source, join(dist, path));
      rmSync(made, { recursive: true });
    },
  };
}

const told = (path, bytes) => ({ path, bytes: bytes.length, sha256: hash(bytes) });

/** A large file also in pieces, so that a line that breaks in the middle costs a phone one of them. */
function inPieces(path, bytes, made) {
  if (bytes.length < 2 * pieceBytes) return {};
  const pieces = [];
  for (let at = 0; at < bytes.length; at += pieceBytes) {
    const part = bytes.subarray(at, at + pieceBytes);
    const place = `${path}.${pieces.length}.part`;
    writeFileSync(join(made, basename(place)), part);
    pieces.push(told(place, part));
  }
  return { pieces };
}

function placeFile(source, target) {
  mkdirSync(dirname(target), { recursive: true });
  cpSync(source, target);
  if (!worthPacking.test(target)) return;
  writeFileSync(`${target}.gz`, gzipSync(readFileSync(source), { level: 9 }));
}

function packPython(root, made) {
  const own = join(root, '../.venv/bin/python');
  const run = spawnSync(existsSync(own) ? own : 'python3', [join(root, 'scripts/pack_engine.py'), made], { stdio: 'inherit' });
  if (run.status !== 0) throw new Error('the Python files for the phone could not be packed; the lines above say why');
}

function buildWorker(root, made) {
  const { info } = JSON.parse(readFileSync(join(root, 'node_modules/pyodide/pyodide-lock.json'), 'utf8'));
  return build({
    configFile: false,
    root,
    publicDir: false,
    logLevel: 'warn',
    define: { __RUNTIME_INFO__: JSON.stringify(info) },
    build: {
      target: 'es2022',
      outDir: made,
      emptyOutDir: false,
      lib: { entry: join(root, 'src/engine-worker/main.ts'), formats: ['es'], fileName: () => 'worker.js' },
    },
  });
}

const hash = (bytes) => createHash('sha256').update(bytes).digest('hex');
