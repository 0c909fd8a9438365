/** `neckline erase`: one patient's data, or those of one person who left the line, for good. */
import { personKeyId } from '../store/data-keys.ts';
import { type ErasureReason, erasureReasons } from '../store/erase.ts';
import type { ErasureProof } from '../store/erasures.ts';
import type { LineStore } from '../store/store.ts';
import { Refused } from './open-line.ts';
import { type Io, operate, readWords, withStore } from './operate.ts';
import { personMeant } from './person-meant.ts';
import { scrubbed } from './scrub.ts';

const usage = `neckline erase CODE --reason REASON
neckline erase --person WHO

Erases the case with this code (or id): its key is destroyed, so that history, texts, questions and timers sealed under
it can be opened by nobody again. What stays: ids, instants, the code, and the chain, which still holds. An open case is
closed first. REASON: ${erasureReasons.join(', ')}.
--person: somebody who was taken off the line (id, whole name or address): name, number, conversation and the texts of
theirs that belong to no case. What they did in cases stays, under an id that nobody knows any more.
Exit code 1, and a line that says so, when the key's bytes may still stand in the database because somebody reads it (a
backup, an audit): run the same again when that has ended. For a person who is erased already WHO is the id.
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
      const isErased = (await store.proofOf(caseId)).destroyedAt !== null;
      if (!isErased) await store.eraseCase(caseId, Date.now(), reason);
      const left = await scrubbed(store);
      io.stdout.write(proofLines(code, await store.proofOf(caseId), left.exit === 0));
      io.stdout.write(left.line);
      if (isErased) return left.exit;
      const { faults } = await store.audit();
      for (const fault of faults) io.stdout.write(`${fault}\n`);
      io.stdout.write(faults.length === 0 ? 'every chain holds\n' : `${faults.length} faults\n`);
      return faults.length === 0 ? left.exit : 1;
    }),
  );
}

function erasePerson(who: string, io: Io): Promise<number> {
  return withStore(io, async (store, { programme }) => {
    const isErased = (await store.erasures()).some((one) => one.keyId === personKeyId(who));
    const id = isErased ? who : await eraseNow(store, programme.id, who);
    const left = await scrubbed(store);
    const opened = 'nobody can open name, number, conversation and texts any more';
    io.stdout.write(`${id}: key destroyed${left.exit === 0 ? `; ${opened}` : ''}\n${left.line}`);
    return left.exit;
  });
}

async function eraseNow(store: LineStore, programmeId: string, who: string): Promise<string> {
  const person = personMeant(who, await store.roster(programmeId));
  if (typeof person === 'string') throw new Refused(person);
  if (person.state !== 'suspended') throw new Refused('that person is on the line: a coordinator sends SUSPEND first');
  await store.erasePerson(person.id, Date.now());
  return person.id;
}

function proofLines(code: string, proof: ErasureProof, isGone: boolean): string {
  const { records, texts, questions, due, destroyedAt, reason } = proof;
  const when = destroyedAt === null ? 'NOT erased' : `key destroyed ${new Date(destroyedAt).toISOString()} (${reason})`;
  const opened = isGone ? 'nobody can open any more' : 'not safe yet';
  return `${code}: ${when}\n${opened}: ${records} records, ${texts} texts, ${questions} questions, ${due} timers\n`;
}
