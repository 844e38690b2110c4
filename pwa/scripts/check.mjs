// Type check of every running place, each against its own library only.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';

const holdsTypeScript = (folder) =>
  existsSync(folder) &&
  readdirSync(folder, { recursive: true }).some((name) => /\.tsx?$/.test(String(name)));

const places = [
  ['src/shared', 'src/shared'],
  ['src/engine-worker', 'src/engine-worker'],
  ['src/sw', 'src/sw'],
  ['src/page', 'src/page'],
  ['tsconfig.tests.json', '../tests/pwa'],
].filter(([, folder]) => holdsTypeScript(folder));

let failed = 0;
for (const [project] of places) {
  const run = spawnSync('npx', ['tsc', '--noEmit', '-p', project], { stdio: 'inherit' });
  console.log(`${run.status === 0 ? 'ok  ' : 'FAIL'} ${project}`);
  if (run.status !== 0) failed += 1;
}
process.exit(failed === 0 ? 0 : 1);
