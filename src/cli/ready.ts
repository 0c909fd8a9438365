/** `neckline ready`: what is missing before a patient may be served, and how to mend it. */
import { readSettings, type Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import type { LineStore } from '../store/store.ts';
import { hasNoDatabase, settingsAndContent, soundContent } from './open-line.ts';
import { type Io, onStore, operate, readWords } from './operate.ts';
import { factsOf, nothingStored, storedIn } from './ready/facts.ts';
import { holdsUpPatients, type Missing, missingOf } from './ready/missing.ts';

const usage = `neckline ready [--json]

Says what is missing before a patient may be served, and how to mend it: people, names, numbers, backups, signatures. It
changes nothing, and may run beside the line.
--json  the same as one JSON object: ready, missing (id, what, mend, holdsUp)
holdsUp: every-start = no start at all; start = a start with --trial only; patients = no patient may depend on the line;
nothing = worth knowing.
Exit: 0 nothing holds up patients, 1 something does, 2 bad usage or settings.
`;

/** Runs the command. */
export function runReady(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, [], ['--json']);
  if (!read || read.words.length > 0) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, async () => {
    const { settings, content, faults } = readAll(io);
    const tell = async (store: LineStore | null): Promise<number> => {
      const stored = store === null ? nothingStored : await storedIn(store, content);
      const missing = missingOf({ ...factsOf(settings, content, stored, Date.now()), faults });
      const ready = !missing.some(holdsUpPatients);
      io.stdout.write(read.given['--json'] ? `${JSON.stringify({ ready, missing })}\n` : readyText(missing));
      return ready ? 0 : 1;
    };
    // To look must not make a database.
    return hasNoDatabase(settings) ? tell(null) : onStore(io, settings, content, tell);
  });
}

/** Faults in these do not hide which database and programme are meant: all else can be said in spite of them. */
const besideDatabase = /(?:^|: )NECKLINE_(?:SMS2?|TELEGRAM|METRICS|ALERT|BACKUP|HTTP)_\w+: /;

/** Settings, without those that have a fault, and the content. Refuses where a fault leaves nothing to look at. */
function readAll(io: Io): { settings: Settings; content: Content; faults: readonly string[] } {
  const read = readSettings(undefined, io.settingsFile ?? null);
  if (!read.ok && read.faults.every((one) => besideDatabase.test(one)))
    return { settings: read.sound, content: soundContent(read.sound), faults: read.faults };
  const [settings, content] = settingsAndContent(io);
  return { settings, content, faults: [] };
}

const headings: Readonly<Record<Missing['holdsUp'], string>> = {
  'every-start': 'Without this the line does not start:',
  start: 'Without this the line starts as a trial only (start --trial):',
  patients: 'Without this no patient may depend on the line:',
  nothing: 'Worth knowing:',
};

/** The list for people. */
function readyText(missing: readonly Missing[]): string {
  const blocks = [...new Set(missing.map(({ holdsUp }) => holdsUp))].map((holdsUp) => {
    const lines = missing.filter((one) => one.holdsUp === holdsUp).map(({ what, mend }) => `- ${what}\n  ${mend}`);
    return [headings[holdsUp], ...lines].join('\n');
  });
  const count = missing.filter(holdsUpPatients).length;
  const last =
    count === 0
      ? 'Ready: patients may be served.'
      : `Not ready: ${count} ${count === 1 ? 'thing is' : 'things are'} missing.`;
  return `${[...blocks, last].join('\n\n')}\n`;
}
