// Validate every glTF file named on the command line; print one JSON report for each, as a list.
import { readFile } from 'node:fs/promises';
import validator from 'gltf-validator';

const reports = [];
for (const path of process.argv.slice(2)) {
  reports.push(await validator.validateBytes(new Uint8Array(await readFile(path))));
}
console.log(JSON.stringify(reports));
