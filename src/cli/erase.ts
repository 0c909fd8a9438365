/** `neckline erase CODE`: one patient's data, for good. */
import { type ErasureReason, erasureReasons } from '../store/erase.ts';
import type { ErasureProof } from '../store/erasures.ts';
import { Refused } from './open-line.ts';
import { type Io, operate, readWords, withStore } from './operate.ts';

const usage = `neckline erase CODE --reason REASON

Erases the case with this code (or id): its key is destroyed, so that history, texts, questions and timers sealed under
it can be opened by nobody again. What stays: ids, instants, the code, and the chain, which still holds. An open case is
closed first. REASON: ${erasureReasons.join(', ')}.
Backups from before still hold the key: the list of erasures beside them erases again at a restore. Make a backup now.
`;

/** Runs the command. 2 when the code is unknown. */
export function runErase(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--reason']);
  const reason = erasureReasons.find((one): one is ErasureReason => one === read?.given['--reason']);
  const [code, ...more] = read?.words ?? [];
  if (!read || !code || more.length > 0 || !reason) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, () =>
    withStore(io, async (store, { programme }) => {
      const caseId = await store.caseIdOf(programme.id, code);
      if (caseId === null) throw new Refused(`${code}: no such case`);
      const before = await store.proofOf(caseId);
      if (before.destroyedAt !== null) {
        io.stdout.write(proofLines(code, before));
        return 0;
      }
      await store.eraseCase(caseId, Date.now(), reason);
      io.stdout.write(proofLines(code, await store.proofOf(caseId)));
      const { faults } = await store.audit();
      for (const fault of faults) io.stdout.write(`${fault}\n`);
      io.stdout.write(faults.length === 0 ? 'every chain holds\n' : `${faults.length} faults\n`);
      return faults.length === 0 ? 0 : 1;
    }),
  );
}

function proofLines(code: string, proof: ErasureProof): string {
  const { records, texts, questions, due, destroyedAt, reason } = proof;
  const when = destroyedAt === null ? 'NOT erased' : `key destroyed ${new Date(destroyedAt).toISOString()} (${reason})`;
  return `${code}: ${when}\nnobody can open any more: ${records} records, ${texts} texts, ${questions} questions, ${due} timers\n`;
}
