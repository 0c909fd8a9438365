/** `neckline alert WHAT`: word outside the links from where the line itself cannot speak: its units, and whoever tries it. */
import type { Settings } from '../config.ts';
import { type Content, loadContent } from '../content/load.ts';
import { alertTextOf } from '../line/alert-text.ts';
import { Alerts } from '../line/alerts.ts';
import type { Condition } from '../line/condition.ts';
import { noteFailedBackup } from '../line/last-backup.ts';
import type { Log, PostAlert, Store } from '../line/ports.ts';
import { alertPost } from './alert-post.ts';
import { openOwnStore, Refused } from './open-line.ts';
import { commandParts, type Io, operate, readWords } from './operate.ts';

const usage = `neckline alert backup-failed | line-down | test

Sends word to the address NECKLINE_ALERT_URL. For OnFailure of the units, and for trying the address.

backup-failed  a backup could not be made. It is noted in the database: a line that runs tells the coordinators and the
               address within a minute, until a backup succeeds. Where no line runs, the address is told now
line-down      the line has ended and is not started again. The address is told now, once an hour at most; the line says
               itself when it runs again
test           a word that says that it is a test

Exit code 1 when the address took nothing, or none is set where the line cannot tell it.
`;

/** What the line looks after that each word is about, and the text of it. */
const conditions = {
  'backup-failed': { about: 'backup', key: 'backup-failed' },
  'line-down': { about: 'line', key: 'line-down' },
  test: { about: 'test', key: 'alert-test' },
} as const;
type Word = keyof typeof conditions;

/** A line that looked within this time runs, ms: it looks every half minute. */
const aliveForMs = 120_000;

/** Runs the command. */
export function runAlert(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const [word, ...more] = readWords(args, [])?.words ?? [];
  if (word === undefined || more.length > 0 || !Object.hasOwn(conditions, word)) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, async () => {
    const { settings, log } = commandParts(io);
    const content = usableContent(settings);
    return alert(word as Word, { settings, log, content, io });
  });
}

/** A fault in the programme may be why the line does not start: it is said all the same, without the programme's name. */
function usableContent({ NECKLINE_PROGRAMME: file }: Settings): Content {
  const own = loadContent(undefined, file ?? null);
  if (own.problems.length === 0) return own;
  const shipped = loadContent();
  return { ...shipped, programme: { ...shipped.programme, name: 'Neckline' } };
}

interface Parts {
  readonly settings: Settings;
  readonly log: Log;
  readonly content: Content;
  readonly io: Io;
}

async function alert(word: Word, parts: Parts): Promise<number> {
  const { settings, content, log, io } = parts;
  const post = alertPost(settings, log);
  if (word === 'test') return say(word, post, parts);
  let store: Awaited<ReturnType<typeof openOwnStore>>;
  try {
    store = await openOwnStore(io, settings, content, log);
  } catch (thrown) {
    if (!(thrown instanceof Refused)) throw thrown;
    // Perhaps that is why the line has ended: nothing is noted, but it is said.
    io.stderr.write(`${thrown.message}\n`);
    return await say(word, post, parts);
  }
  try {
    if (word === 'backup-failed') {
      await noteFailedBackup(store, Date.now());
      if (Math.abs(Date.now() - Number((await store.mark('alive')) ?? 0)) < aliveForMs) {
        io.stdout.write('noted; the line tells it within a minute\n');
        return 0;
      }
    }
    return await sayOnce(word, store, post, parts);
  } finally {
    await store.close();
  }
}

function conditionOf(word: Word): Condition {
  return { wrong: true, key: conditions[word].key, vars: {} };
}

/** By the same marks as the line, so that what one said the other does not say again. */
async function sayOnce(word: Word, store: Store, post: PostAlert | null, { log, content, io }: Parts): Promise<number> {
  if (!post) return told(null, io);
  let taken: boolean | null = null;
  const alerts = new Alerts({
    store,
    log,
    clock: { now: () => Date.now() },
    steady: () => performance.now(),
    textOf: alertTextOf(content),
    post: async (one, signal) => {
      taken = await post(one, signal);
      return taken;
    },
  });
  await alerts.look(new Map([[conditions[word].about, conditionOf(word)]]));
  if (taken === null) {
    io.stdout.write('said before; the address is not told again\n');
    return 0;
  }
  return told(taken, io);
}

/** Without any mark. */
async function say(word: Word, post: PostAlert | null, { content, io }: Parts): Promise<number> {
  if (!post) return told(null, io);
  const at = Date.now();
  const text = alertTextOf(content)(conditionOf(word));
  const what = conditions[word].about;
  return told(await post({ what, state: 'begun', at, since: at, text }, new AbortController().signal), io);
}

function told(taken: boolean | null, io: Io): number {
  if (taken === true) io.stdout.write('the address took it\n');
  else if (taken === false) io.stderr.write('NECKLINE_ALERT_URL: the address did not take it\n');
  else io.stderr.write('NECKLINE_ALERT_URL is not set: nobody outside the links is told\n');
  return taken === true ? 0 : 1;
}
