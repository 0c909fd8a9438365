/** `neckline roster import FILE.csv`: the command line is trusted to name people. */
import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Due } from '../conversation/event.ts';
import { emptiedBy } from '../conversation/last-one.ts';
import type { Programme } from '../conversation/programme.ts';
import type { Person } from '../conversation/world.ts';
import { nothingChanged } from '../line/change.ts';
import type { ChangeSet } from '../line/ports.ts';
import { jsonLog } from '../observe/log.ts';
import { openOwnStore, Refused, settingsOrRefuse, soundContent } from './open-line.ts';
import { type ReadRoster, readRoster } from './roster-file.ts';
import { prefixesOf } from './sms-link.ts';

const usage = `neckline roster import FILE.csv [--change]

Adds or changes people of the roster. Header: name,roles,channel,address,site,locale; roles joined by +;
commas, semicolons or tabs between them. A phone number outside NECKLINE_SMS_PREFIXES is a bad line.
Good lines are taken, each bad line is reported. Exit code 1 when there was one.

--change  an address may change its owner, its roles or its site. It begins anew: nothing of the former owner goes to it,
          their open work goes to colleagues. Without it such a line is a bad one.

A file that would leave the line without a doctor or a coordinator, or a clinic without its laboratory, is refused as a
whole: exit code 1, nothing is changed.
`;

/** Runs the command. 2 for bad usage or a database that cannot be opened. */
export async function runRoster(
  args: readonly string[],
  io: { stdout: { write(text: string): unknown }; stderr: { write(text: string): unknown } },
): Promise<number> {
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
  try {
    const text = readFileSync(file, 'utf8');
    const settings = settingsOrRefuse();
    const allowed = settings.NECKLINE_SMS_PREFIXES;
    const prefixes = allowed === undefined ? null : prefixesOf(allowed);
    const content = soundContent(settings);
    const log = jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG);
    const store = await openOwnStore(settings, content, log, false);
    try {
      const { programme } = content;
      const known = await store.roster(programme.id);
      const read = readRoster(text, content, known, false, { prefixes, change });
      for (const fault of read.faults) io.stderr.write(`${file}:${fault.line}: expected ${fault.expected}\n`);
      const emptied = emptiedWords(programme, known, read);
      if (emptied.length > 0) {
        for (const one of emptied) io.stderr.write(`${file}: refused, nothing was changed: ${one}\n`);
        return 1;
      }
      const [outcome] = await store.commit([changeOf(programme, read, Date.now())]);
      if (outcome !== 'committed') throw new Error(`the roster could not be stored: ${outcome}`);
      io.stdout.write(`${read.people.length} people taken, ${read.faults.length} lines left out\n`);
      return read.faults.length > 0 ? 1 : 0;
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

/** All of it or nothing. What somebody owed who has no address any more moves on as when a phone is taken off the line. */
function changeOf(programme: Programme, { people, former }: ReadRoster, now: number): ChangeSet {
  const id = `roster:${randomBytes(6).toString('hex')}`;
  const due = former
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
    due,
  };
}
