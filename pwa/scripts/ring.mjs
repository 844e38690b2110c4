// Import rings, and the walls between rooms: who may import whom in src/. Prints each breach; exit 1 when there is one.
import { readdirSync, readFileSync, existsSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';

const root = resolve(import.meta.dirname, '../src');

// Each room and the rooms it may use beside itself. A room is the longest matching folder.
const walls = {
  shared: [],
  'engine-worker': ['shared'],
  sw: ['shared'],
  'page/words': ['shared', 'page/shell/preferences'],
  'page/shell/preferences': ['shared'],
  'page/log': ['shared', 'page/shell/preferences'],
  'page/sync': ['shared', 'page/log', 'page/shell/preferences'],
  'page/engine': ['shared', 'engine-worker', 'page/log', 'page/sync', 'page/look', 'page/words', 'page/shell/preferences', 'page/shell/now'],
  'page/push': ['shared', 'page/log', 'page/sync', 'page/words', 'page/shell/preferences', 'page/shell/now'],
  'page/shell/now': ['shared', 'page/sync'],
  'page/shell/route': ['shared'],
  'page/shell/drafts': ['shared', 'page/log'],
  'page/shell/online': [],
  'page/shell/trouble': ['page/sync', 'page/words'],
  'page/plan': ['shared', 'page/look', 'page/words', 'page/shell/preferences'],
  'page/look': ['shared', 'page/words', 'page/shell/preferences', 'page/shell/now', 'page/shell/route'],
  'page/decide': ['shared', 'engine-worker', 'page/engine', 'page/log', 'page/sync', 'page/look', 'page/words', 'page/shell/preferences', 'page/shell/now', 'page/shell/route', 'page/shell/trouble'],
  'page/phases': ['shared', 'page/office/lookback', 'page/now', 'page/decide', 'page/engine', 'page/log', 'page/sync', 'page/look', 'page/plan', 'page/words', 'page/shell/preferences', 'page/shell/now', 'page/shell/route', 'page/shell/drafts', 'page/shell/online', 'page/shell/trouble'],
  'page/now': ['shared', 'page/decide', 'page/engine', 'page/log', 'page/sync', 'page/look', 'page/plan', 'page/words', 'page/shell/preferences', 'page/shell/now', 'page/shell/route', 'page/shell/drafts'],
  'page/office/lookback': ['shared', 'page/log', 'page/sync', 'page/look', 'page/words', 'page/shell/preferences', 'page/shell/trouble'],
  'page/office': ['shared', 'page/office/lookback', 'page/now', 'page/log', 'page/sync', 'page/look', 'page/plan', 'page/words', 'page/shell/preferences', 'page/shell/now', 'page/shell/route', 'page/shell/drafts', 'page/shell/trouble'],
  'page/shell': ['shared', 'page/decide', 'page/engine', 'page/log', 'page/sync', 'page/push', 'page/look', 'page/plan', 'page/phases', 'page/now', 'page/office', 'page/office/lookback', 'page/words', 'page/shell/preferences', 'page/shell/now', 'page/shell/route', 'page/shell/drafts', 'page/shell/online', 'page/shell/trouble'],
  'page/main': ['shared', 'page/engine', 'page/shell', 'page/log', 'page/sync', 'page/push', 'page/words', 'page/look', 'page/shell/preferences', 'page/shell/now', 'page/shell/route', 'page/shell/drafts', 'page/shell/online', 'page/shell/trouble'],
};
const rooms = Object.keys(walls).sort((a, b) => b.length - a.length);
const roomOf = (file) => rooms.find((room) => file === room || file.startsWith(`${room}/`) || file.startsWith(`${room}.`));

const files = readdirSync(root, { recursive: true })
  .map(String)
  .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts'))
  .map((name) => name.split(sep).join('/'));

function importsOf(file) {
  const text = readFileSync(join(root, file), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const found = [];
  for (const match of text.matchAll(/(?:^|[;\n])\s*(import|export)\s+(type\s+)?[^'";]*?from\s*['"](\.[^'"]+)['"]|import\(?\s*['"](\.[^'"]+)['"]/g)) {
    found.push({ to: match[3] ?? match[4], typeOnly: match[2] !== undefined });
  }
  return found;
}

function landing(from, to) {
  const base = resolve(root, dirname(from), to.replace(/\?.*$/, ''));
  const tries = [base, `${base}.ts`, `${base}.tsx`, join(base, 'index.ts'), join(base, 'index.tsx'), base.replace(/\.js$/, '.ts')];
  const hit = tries.find((path) => existsSync(path) && statSync(path).isFile());
  return hit ? relative(root, hit).split(sep).join('/') : null;
}

const breaches = [];
const graph = new Map();
for (const file of files) {
  const room = roomOf(file);
  if (!room) breaches.push(`${file}: stands in no room`);
  const next = [];
  for (const { to, typeOnly } of importsOf(file)) {
    const target = landing(file, to);
    if (target === null) {
      if (!/\.(css|svg|json)$/.test(to)) breaches.push(`${file}: no file for "${to}"`);
      continue;
    }
    if (!/\.tsx?$/.test(target)) continue;
    if (!typeOnly) next.push(target);
    const other = roomOf(target);
    if (room && other && other !== room && !walls[room].includes(other)) {
      breaches.push(`${file}: ${room} may not use ${other} (${target})`);
    }
  }
  graph.set(file, next);
}

const state = new Map();
function walk(file, path) {
  state.set(file, 'open');
  for (const next of graph.get(file) ?? []) {
    if (state.get(next) === 'open') breaches.push(`ring: ${[...path.slice(path.indexOf(next)), next].join(' -> ')}`);
    else if (!state.has(next)) walk(next, [...path, next]);
  }
  state.set(file, 'done');
}
for (const file of files) if (!state.has(file)) walk(file, [file]);

for (const line of breaches) console.error(line);
console.log(`${files.length} files, ${[...graph.values()].flat().length} imports, ${breaches.length} breaches`);
process.exit(breaches.length === 0 ? 0 : 1);
