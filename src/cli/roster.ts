/** `neckline roster import FILE.csv`: the command line is trusted to name people. */
import { readFileSync } from 'node:fs';
import { jsonLog } from '../observe/log.ts';
import { openOwnStore, Refused, settingsOrRefuse, soundContent } from './open-line.ts';
import { readRoster } from './roster-file.ts';
import { prefixesOf } from './sms-link.ts';

const usage = `neckline roster import FILE.csv

Adds or changes people of the roster. Header: name,roles,channel,address,site,locale; roles joined by +;
commas, semicolons or tabs between them. A phone number outside NECKLINE_SMS_PREFIXES is a bad line.
Good lines are taken, each bad line is reported. Exit code 1 when there was one.
`;

/** Runs the command. 2 for bad usage or a database that cannot be opened. */
export async function runRoster(
  args: readonly string[],
  io: { stdout: { write(text: string): unknown }; stderr: { write(text: string): unknown } },
): Promise<number> {
  const [word, file, ...more] = args;
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return 0;
  }
  if (word !== 'import' || !file || more.length > 0) {
    io.stderr.write(usage);
    return 2;
  }
  try {
    const text = readFileSync(file, 'utf8');
    const settings = settingsOrRefuse();
    const allowed = settings.NECKLINE_SMS_PREFIXES;
    const prefixes = allowed === undefined ? null : prefixesOf(allowed);
    const content = soundContent(settings);
    const log = jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG);
    const store = await openOwnStore(settings, content, log, false);
    try {
      const known = await store.roster(content.programme.id);
      const { people, faults } = readRoster(text, content.programme, known, false, prefixes);
      await store.putPeople(people);
      io.stdout.write(`${people.length} people taken, ${faults.length} lines left out\n`);
      for (const fault of faults) io.stderr.write(`${file}:${fault.line}: expected ${fault.expected}\n`);
      return faults.length > 0 ? 1 : 0;
    } finally {
      await store.close();
    }
  } catch (error) {
    if (error instanceof Refused) {
      io.stderr.write(`${error.message}\n`);
      return 2;
    }
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') {
      io.stderr.write(`roster: cannot read ${file}\n`);
      return 2;
    }
    throw error;
  }
}
