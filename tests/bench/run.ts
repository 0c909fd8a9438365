/**
 * `npm run bench`: measures and prints tables. `--json FILE` keeps the figures (`tests/bench/last.json` is what the
 * README's tables are made of: `npm run readme` afterwards).
 */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { measureAll, wholePlan } from './report.ts';
import { speedTables } from './tables.ts';

const { json } = parseArgs({ options: { json: { type: 'string' } } }).values;
const report = await measureAll(wholePlan, (what) => process.stderr.write(`${what}\n`));
if (json !== undefined) writeFileSync(json, `${JSON.stringify(report, null, 2)}\n`);
for (const table of Object.values(speedTables(report))) process.stdout.write(`${table}\n\n`);
