// Where a fault of the built command stands in the source: `node .tools/place.mjs chunk-ABC.js:123`, in the same build.
import { readFileSync } from 'node:fs';
import { SourceMap } from 'node:module';

const [, file, line] = /^([\w-]+\.js):(\d+)/.exec(process.argv[2] ?? '') ?? [];
if (file === undefined) {
  process.stderr.write('node .tools/place.mjs FILE.js:LINE\n');
  process.exit(2);
}
const folder = file === 'main.js' ? 'dist' : 'dist/line';
const map = JSON.parse(readFileSync(new URL(`../${folder}/${file}.map`, import.meta.url), 'utf8'));
// The end of the line: what begins on it or goes on through it.
const found = new SourceMap(map).findEntry(Number(line) - 1, Number.MAX_SAFE_INTEGER);
process.stdout.write(`${found.originalSource?.replace(/^(\.\.\/)+/, '') ?? '-'}:${(found.originalLine ?? -1) + 1}\n`);
