/** `neckline erase`: one patient's data, or those of one person who left the line, for good. */
import { type ErasureReason, erasureReasons } from '../store/erase.ts';
import type { ErasureProof } from '../store/erasures.ts';
import { Refused } from './open-line.ts';
import { type Io, operate, readWords, withStore } from './operate.ts';
import { personMeant } from './person-meant.ts';

const usage = `neckline erase CODE --reason REASON
neckline erase --person WHO

Erases the case with this code (or id): its key is destroyed, so that history, texts, questions and timers sealed under
it can be opened by nobody again. What stays: ids, instants, the code, and the chain, which still holds. An open case is
closed first. REASON: ${erasureReasons.join(', ')}.
--person: somebody who was taken off the line (id, whole name or address): name, number, conversation and the texts of
theirs that belong to no case. What they did in cases stays, under an id that nobody knows any more.
Backups from before still hold the key: the list of erasures beside them erases again at a restore. Make a backup now.
`;

/** Runs the command. 2 when the code is unknown. */
export function runErase(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--reason', '--person']);
  const who = read?.given['--person'];
  if (who !== undefined && args.length === 2) return operate(io, () => erasePerson(who, io));
  const reason = erasureReasons.find((one): one is ErasureReason => one === read?.given['--reason']);
  const [code, ...more] = read?.words ?? [];
  if (!read || !code || more.length > 0 || !reason || who !== undefined) {
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

function erasePerson(who: string, io: Io): Promise<number> {
  return withStore(io, async (store, { programme }) => {
    const person = personMeant(who, await store.roster(programme.id));
    if (typeof person === 'string') throw new Refused(person);
    if (person.state !== 'suspended')
      throw new Refused('that person is on the line: a coordinator sends SUSPEND first');
    await store.erasePerson(person.id, Date.now());
    io.stdout.write(`${person.id}: key destroyed; nobody can open name, number, conversation and texts any more\n`);
    return 0;
  });
}

function proofLines(code: string, proof: ErasureProof): string {
  const { records, texts, questions, due, destroyedAt, reason } = proof;
  const when = destroyedAt === null ? 'NOT erased' : `key destroyed ${new Date(destroyedAt).toISOString()} (${reason})`;
  return `${code}: ${when}\nnobody can open any more: ${records} records, ${texts} texts, ${questions} questions, ${due} timers\n`;
}
