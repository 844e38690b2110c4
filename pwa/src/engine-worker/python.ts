// Python under WebAssembly, with the server's own files: one function of text to text.
import type { EngineFiles } from './contract';

export type Work = (asked: string) => string;

/** For which interface the runtime was made, from its own list of packages; set by the build. */
declare const __RUNTIME_INFO__: object;

const prepare = `
import sys
sys.path[:0] = ["/engine/slabtide.zip", "/engine/tzdata.zip"]
from slabtide.phone.work import work_text
work_text
`;

/** Loads the runtime and our files. Rejects when one of them can't be had or does not run here. */
export async function startPython(files: EngineFiles, onStep: (step: 'runtime' | 'code') => void): Promise<Work> {
  const archives = Promise.all([fetchBytes(files.code), fetchBytes(files.zones)]);
  archives.catch(() => undefined); // looked at below
  onStep('runtime');
  const nothingToInstall = JSON.stringify({ info: __RUNTIME_INFO__, packages: {} }); // all that runs is in the three archives
  const { loadPyodide } = (await import(/* @vite-ignore */ `${files.runtime}pyodide.mjs`)) as typeof import('pyodide');
  const python = await loadPyodide({ indexURL: files.runtime, lockFileContents: nothingToInstall, packageBaseUrl: files.runtime });
  onStep('code');
  const [code, zones] = await archives;
  python.FS.mkdirTree('/engine');
  python.FS.writeFile('/engine/slabtide.zip', code);
  python.FS.writeFile('/engine/tzdata.zip', zones);
  return python.runPython(prepare) as Work;
}

async function fetchBytes(address: string): Promise<Uint8Array> {
  const response = await fetch(address);
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}
