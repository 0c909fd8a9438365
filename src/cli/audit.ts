/** `neckline audit`: whether the history is what was written, and who saw and did what in one case. */
import { userInfo } from 'node:os';
import type { Content } from '../content/load.ts';
import type { Person } from '../conversation/world.ts';
import type { LineStore } from '../store/store.ts';
import { Refused } from './open-line.ts';
import { type Io, operate, readWords, withStore } from './operate.ts';

const usage = `neckline audit verify [--head MARK]
neckline audit accept
neckline audit case CODE [--texts]
neckline audit head

verify  recomputes the chain of every case, compares the case with its history, and recomputes every daily head. With
        --head, also that the head with this mark (from the morning text) is among them. What was added after the last
        head and taken away again cannot be seen: that is its reach, and it is printed. Exit code 1 when anything differs
accept  takes the rows of tables that were changed beside the line for right, once you know why; who did it is kept and
        shown by verify
case    everything that happened in one case, and who was sent what: instant, person, what; with --texts the words too.
        That somebody looked is itself kept
head    takes a head, unless the last one is younger than a day, and prints its mark
`;

/** A head that is younger is printed again, ms. */
const freshHeadMs = 86_400_000;

/** Runs the command. */
export function runAudit(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--head'], ['--texts']);
  const [word, code, ...more] = read?.words ?? [];
  if (read && word === 'verify' && code === undefined && !read.given['--texts']) {
    return operate(io, () => withStore(io, (store) => verify(store, read.given['--head'] ?? null, io)));
  }
  if (read && word === 'case' && code && more.length === 0 && !read.given['--head']) {
    const texts = read.given['--texts'] !== undefined;
    return operate(io, () => withStore(io, (store, content) => showCase(store, content, code, texts, io)));
  }
  if (read && word === 'accept' && args.length === 1)
    return operate(io, () => withStore(io, (store) => accept(store, io)));
  if (read && word === 'head' && args.length === 1) {
    return operate(io, () =>
      withStore(io, async (store) => {
        const { number, at, cases, mark, erased } = await store.dailyHead(Date.now(), freshHeadMs);
        io.stdout.write(
          `head ${number} of ${new Date(at).toISOString()}: ${mark}-${erased} (${cases} cases moved, ${erased} erasures so far)\n`,
        );
        return 0;
      }),
    );
  }
  io.stderr.write(usage);
  return Promise.resolve(2);
}

async function verify(store: LineStore, mark: string | null, io: Io): Promise<number> {
  const { cases, erased, faults } = await store.audit();
  const heads = await store.verifyHeads();
  const all = [...faults, ...heads.faults];
  // The number behind the mark in a morning text tells how much was erased.
  const asked = mark?.toUpperCase().replace(/-\d+$/, '') ?? null;
  if (mark !== null && !heads.heads.some((one) => one.mark === asked)) {
    all.push(`no head has the mark ${mark.slice(0, 20)}: heads were taken away, or it is of another line`);
  }
  for (const fault of all) io.stdout.write(`${fault}\n`);
  io.stdout.write(`${cases} cases, ${erased.length} of them erased, ${heads.heads.length} heads\n`);
  for (const line of (await store.mark(acceptedName))?.split('\n') ?? []) {
    io.stdout.write(`rows changed beside the line were taken for right ${line}\n`);
  }
  const { last } = heads;
  const reach = last
    ? `reach: any change, loss or other order up to ${new Date(last.at).toISOString()}, head ${last.mark}; of later records only what a chain shows`
    : 'reach: no head was taken yet; only what each chain shows';
  io.stdout.write(`${reach}\n`);
  io.stdout.write(all.length === 0 ? 'every chain holds\n' : `${all.length} faults\n`);
  return all.length === 0 ? 0 : 1;
}

/** Mark of the database: when rows that the line had not written were taken for right, by whom, of which tables. */
const acceptedName = 'accepted';

async function accept(store: LineStore, io: Io): Promise<number> {
  const tables = await store.changedTables();
  if (tables.length === 0) {
    io.stdout.write('nothing was changed beside the line\n');
    return 0;
  }
  const by = userInfo().username;
  const before = await store.mark(acceptedName);
  const line = `${new Date().toISOString()} by ${by}: ${tables.join(', ')}`;
  await store.setMark(acceptedName, before === null ? line : `${before}\n${line}`);
  await store.takeStock();
  io.stdout.write(`taken for right: ${tables.join(', ')}\n`);
  return 0;
}

async function showCase(store: LineStore, content: Content, code: string, texts: boolean, io: Io): Promise<number> {
  const { programme } = content;
  const caseId = await store.caseIdOf(programme.id, code);
  if (caseId === null) throw new Refused(`${code}: no such case`);
  const names = namesOf(await store.roster(programme.id));
  const lines: { at: number; line: string }[] = [];
  for (const { at, by, event } of await store.history(caseId)) {
    lines.push({ at, line: `${names(by)}\tdid\t${event.type}` });
  }
  for (const one of await store.messages({ caseId })) {
    const way = one.direction === 'in' ? 'wrote' : `was sent (${one.status})`;
    const words = texts ? `\t${one.text.replaceAll('\n', ' / ')}` : '';
    lines.push({ at: one.at, line: `${names(one.personId)}\t${way}\t${one.id}${words}` });
  }
  for (const { at, by } of await store.look(caseId, `command line: ${userInfo().username}`, Date.now())) {
    lines.push({ at, line: `${by}\tlooked\t` });
  }
  const proof = await store.proofOf(caseId);
  if (proof.destroyedAt !== null) {
    io.stdout.write(
      `erased ${new Date(proof.destroyedAt).toISOString()} (${proof.reason}); ${proof.records} records that nobody can open\n`,
    );
  }
  lines.sort((a, b) => a.at - b.at);
  for (const { at, line } of lines) io.stdout.write(`${new Date(at).toISOString()}\t${line}\n`);
  return 0;
}

function namesOf(people: readonly Person[]): (id: string | null) => string {
  const known = new Map(people.map((one) => [one.id, `${one.name} (${one.roles.join('+')})`]));
  return (id) => (id === null ? 'unknown sender' : (known.get(id) ?? id));
}
