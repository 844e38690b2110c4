// Answers questions about the engine as a phone would: Python under WebAssembly, from the archives the phone gets.
// Arguments: the folder of pyodide, the folder of the archives. Standard input: a line of JSON for each question;
// {"pour", "at"} asks for a timeline, {"work"} for a job. A line of answer for each, with the milliseconds it took.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';

const [runtime, archives] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(join(runtime, 'pyodide.mjs')).href);
const python = await loadPyodide({ indexURL: runtime });
python.FS.mkdirTree('/engine');
for (const name of ['slabtide.zip', 'tzdata.zip']) python.FS.writeFile(`/engine/${name}`, readFileSync(join(archives, name)));
const answer = python.runPython(`
import json, sys
from datetime import datetime
sys.path[:0] = ["/engine/slabtide.zip", "/engine/tzdata.zip"]
from slabtide.engine import forecast
from slabtide.engine.contract import read_pour, write_timeline
from slabtide.phone.work import work_text

def answer(line):
    asked = json.loads(line)
    if "work" in asked:
        return work_text(json.dumps(asked["work"]))
    return json.dumps(write_timeline(forecast(read_pour(asked["pour"]), datetime.fromisoformat(asked["at"]))))

answer
`);

for await (const line of createInterface({ input: process.stdin })) {
  const began = performance.now();
  const found = answer(line);
  process.stdout.write(`${(performance.now() - began).toFixed(0)} ${found}\n`);
}
