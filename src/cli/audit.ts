/** `neckline audit verify`: recomputes every chain and fold of the history. */
import { jsonLog } from '../observe/log.ts';
import { openOwnStore, Refused, settingsOrRefuse, soundContent } from './open-line.ts';

const usage = `neckline audit verify

Recomputes the chain of every case and compares the case with its history. Exit code 1 when anything differs.
`;

/** Runs the command. */
export async function runAudit(
  args: readonly string[],
  io: { stdout: { write(text: string): unknown }; stderr: { write(text: string): unknown } },
): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return 0;
  }
  if (args.length !== 1 || args[0] !== 'verify') {
    io.stderr.write(usage);
    return 2;
  }
  try {
    const settings = settingsOrRefuse();
    const content = soundContent(settings);
    const log = jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG);
    const store = await openOwnStore(settings, content, log, false);
    try {
      const faults = await store.verify();
      for (const fault of faults) io.stdout.write(`${fault}\n`);
      io.stdout.write(faults.length === 0 ? 'every chain holds\n' : `${faults.length} faults\n`);
      return faults.length === 0 ? 0 : 1;
    } finally {
      await store.close();
    }
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    io.stderr.write(`${error.message}\n`);
    return 2;
  }
}
