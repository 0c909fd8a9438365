/** `neckline roster import FILE.csv`: the command line is trusted to name people. */
import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Due } from '../conversation/event.ts';
import { emptiedBy } from '../conversation/last-one.ts';
import type { Programme } from '../conversation/programme.ts';
import { welcomeDue } from '../conversation/welcome.ts';
import type { Person } from '../conversation/world.ts';
import { nothingChanged } from '../line/change.ts';
import type { ChangeSet } from '../line/ports.ts';
import type { LineStore } from '../store/store.ts';
import { Refused, settingsAndContent } from './open-line.ts';
import { type Io, onStore, operate } from './operate.ts';
import { type ReadRoster, readRoster, type TakenLine } from './roster-file.ts';
import { inventedProgramme, isInvented } from './said-place.ts';
import { prefixesOf } from './sms-link.ts';

const usage = `neckline roster import FILE.csv [--change]

Adds or changes people of the roster. Header: name,roles,channel,address,site,locale; roles joined by +;
commas, semicolons or tabs between them. A phone number is written with the country's code, like +000555010001; one outside
NECKLINE_SMS_PREFIXES is a bad line. Everybody has a site or laboratory of the programme; that of a doctor or a coordinator
is the clinic whose time of day is theirs. Doctors are asked in the order in which they first came onto the roster.
Good lines are taken, each bad line is reported. Exit code 1 when there was one. Says how many were new, changed and the
same, and of each changed line what it changes. A database that is not there yet is made.
Whoever is new and has a phone number gets one welcome text from the line, by day: the first word, who pays, how to call SOS.

--change  an address may change its owner, its roles or its site. It begins anew: nothing of the former owner goes to it,
          their open work goes to colleagues. Without it such a line is a bad one.

A file that would leave the line without a doctor or a coordinator, or a clinic without its laboratory, is refused as a
whole: exit code 1, nothing is changed. Real addresses (sms, telegram) are refused while the programme is the invented one
of the package: exit code 2.
`;

/** Runs the command. 2 for bad usage or a database that cannot be opened. */
export async function runRoster(args: readonly string[], io: Io): Promise<number> {
  const change = args.includes('--change');
  const [word, file, ...more] = args.filter((one) => one !== '--change');
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return 0;
  }
  if (word !== 'import' || !file || more.length > 0) {
    io.stderr.write(usage);
    return 2;
  }
  return operate(io, async () => {
    const text = readFileSync(file, 'utf8');
    const [settings, content, prefixes] = settingsAndContent(io, ({ NECKLINE_SMS_PREFIXES: allowed }) =>
      allowed === undefined ? null : prefixesOf(allowed),
    );
    const readOn = (known: readonly Person[]): ReadRoster =>
      readRoster(text, content, known, false, { prefixes, change });
    const isReal = ({ addresses }: Person): boolean => addresses.some(({ channel }) => channel !== 'bench');
    // Before a database is made for them.
    if (isInvented(settings) && readOn([]).people.some(isReal)) {
      throw new Refused(inventedProgramme(`${file}: real people are on it (sms, telegram)`));
    }
    const work = (store: LineStore) => take(store, content.programme, file, readOn, io);
    return onStore(io, settings, content, work, { makes: true });
  });
}

async function take(
  store: LineStore,
  programme: Programme,
  file: string,
  readOn: (known: readonly Person[]) => ReadRoster,
  io: Io,
): Promise<number> {
  const known = await store.roster(programme.id);
  const read = readOn(known);
  for (const fault of read.faults) io.stderr.write(`${file}:${fault.line}: expected ${fault.expected}\n`);
  // Nobody would see what a real line sends to a phone of the bench.
  const isOfBench = ({ addresses }: Person): boolean => addresses.some(({ channel }) => channel === 'bench');
  if (read.people.some(isOfBench) && (await store.mark('real')) !== null) {
    throw new Refused(`${file}: people of the phone bench are on it, and a real line runs on this database`);
  }
  const emptied = emptiedWords(programme, known, read);
  if (emptied.length > 0) {
    for (const one of emptied) io.stderr.write(`${file}: refused, nothing was changed: ${one}\n`);
    return 1;
  }
  const [outcome] = await store.commit([changeOf(programme, known, read, Date.now())]);
  if (outcome !== 'committed') throw new Error(`the roster could not be stored: ${outcome}`);
  for (const { line, changes } of read.taken.filter(({ as }) => as === 'changed')) {
    io.stdout.write(`line ${line} changed: ${changes.join(', ')}\n`);
  }
  const count = (as: TakenLine['as']): number => read.taken.filter((one) => one.as === as).length;
  io.stdout.write(
    `${count('new')} new, ${count('changed')} changed, ${count('same')} the same, ${read.faults.length} left out\n`,
  );
  return read.faults.length > 0 ? 1 : 0;
}

/** One line for each role that the file would leave with nobody. */
function emptiedWords(programme: Programme, known: readonly Person[], read: ReadRoster): readonly string[] {
  const after = new Map(known.map((one) => [one.id, one]));
  for (const one of [...read.former.map(({ person }) => person), ...read.people]) after.set(one.id, one);
  return emptiedBy({ roster: known, programme }, { roster: [...after.values()], programme }).map(({ role, siteId }) => {
    const labId = programme.sites.find(({ id }) => id === siteId)?.labId;
    return role === 'lab'
      ? `nobody of the laboratory ${labId} would be left on the line, to which the clinic ${siteId} posts`
      : `no ${role} would be left on the line`;
  });
}

/**
 * All of it or nothing. What somebody owed who has no address any more moves on as when a phone is taken off the line; who
 * is new is welcomed by the line, which need not run now.
 */
function changeOf(
  programme: Programme,
  known: readonly Person[],
  { people, former }: ReadRoster,
  now: number,
): ChangeSet {
  const id = `roster:${randomBytes(6).toString('hex')}`;
  const before = new Set([...known.map(({ id }) => id), ...former.flatMap((of) => (of.isSameOwner ? [of.notTo] : []))]);
  const fresh = people.filter((one) => !before.has(one.id));
  const leaving = former
    .filter(({ person }) => person.state === 'suspended')
    .map(({ person, notTo }): Due => {
      const what = { kind: 'standing', now: 'away', why: 'replaced', by: '', heir: null, notTo, since: null } as const;
      const row = { programmeId: programme.id, caseId: null, name: what.kind, frameId: null, dueAt: now, what };
      return { ...row, id: `${id}:${person.id}`, personId: person.id };
    });
  return {
    ...nothingChanged(id, programme.id, now),
    people: [
      ...former.map(({ person }) => ({ kind: 'put-person', person }) as const),
      // The phone is in other hands: what was meant for its former owner does not go there.
      ...former
        .filter(({ isSameOwner }) => !isSameOwner)
        .map(({ person }) => ({ kind: 'drop-texts', personId: person.id }) as const),
      ...people.map((person) => ({ kind: 'put-person', person }) as const),
    ],
    due: [...leaving, ...fresh.flatMap((one) => welcomeDue(programme, one, now) ?? [])],
  };
}
