/** `neckline parked`: events whose handling failed twice. A human looks, mends, and tries again or lets go. */
import { randomBytes } from 'node:crypto';
import type { Content } from '../content/load.ts';
import type { LineEvent } from '../conversation/event.ts';
import { registry } from '../conversation/matters.ts';
import { Handler } from '../line/handle.ts';
import type { Log, Parked } from '../line/ports.ts';
import type { LineStore } from '../store/store.ts';
import { Refused } from './open-line.ts';
import { commandParts, type Io, operate, readWords, withStore } from './operate.ts';

const usage = `neckline parked [list]
neckline parked retry ID
neckline parked drop ID --reason WORDS

list   what is parked: id, instant, kind, and the code of the fault; no words of anybody
retry  handles it now, as if it had come now; it leaves the list when that succeeds. Exit code 1 when it fails again
drop   takes it off the list for good; the reason goes to the log
`;

/** Runs the command. */
export function runParked(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--reason']);
  const [word = 'list', id, ...more] = read?.words ?? [];
  const reason = read?.given['--reason'];
  if (read && word === 'list' && id === undefined) return operate(io, () => withStore(io, (store) => list(store, io)));
  if (read && word === 'retry' && id !== undefined && more.length === 0) {
    return operate(io, () => withStore(io, (store, content) => retry(store, content, id, io)));
  }
  if (read && word === 'drop' && id !== undefined && more.length === 0 && reason) {
    return operate(io, () => withStore(io, (store) => drop(store, id, reason, io)));
  }
  io.stderr.write(usage);
  return Promise.resolve(2);
}

async function list(store: LineStore, io: Io): Promise<number> {
  const parked = await store.parked();
  for (const one of parked) {
    const kind = one.event.kind === 'due' ? `due ${one.event.due.what.kind}` : one.event.kind;
    io.stdout.write(`${one.id}\t${new Date(one.at).toISOString()}\t${kind}\t${one.code}\n`);
  }
  io.stdout.write(`${parked.length} parked\n`);
  return 0;
}

async function found(store: LineStore, id: string): Promise<Parked> {
  const one = (await store.parked()).find((parked) => parked.id === id);
  if (!one) throw new Refused(`${id.slice(0, 80)}: nothing with this id is parked`);
  return one;
}

/** Under a key of its own: the event's are marked as seen. Dying half-way, the next retry finds it done. */
async function retry(store: LineStore, content: Content, id: string, io: Io): Promise<number> {
  const { event } = await found(store, id);
  const { log } = commandParts(io);
  const handled = await tryAgain(store, content, event, log);
  if (handled === 'failed') {
    io.stdout.write(`${id}: failed again; it stays parked\n`);
    return 1;
  }
  await store.unpark(id);
  io.stdout.write(`${id}: ${handled}\n`);
  return 0;
}

async function tryAgain(store: LineStore, content: Content, event: LineEvent, log: Log): Promise<string> {
  // Parked it is already: where it fails again nothing is to be written.
  const refusing = {
    ...store,
    park: async () => {
      throw new Error('parked already');
    },
  };
  const random = { bytes: (count: number) => randomBytes(count) };
  const handler = new Handler({ store: refusing, content, registry, random, log });
  return handler.handle({ ...event, keys: [`retry:${event.id}`], at: Date.now(), seed: random.bytes(16) });
}

async function drop(store: LineStore, id: string, reason: string, io: Io): Promise<number> {
  await found(store, id);
  await store.unpark(id);
  const { log } = commandParts(io);
  log.write('warn', 'parked-dropped', { eventId: id, code: reason.slice(0, 80) });
  io.stdout.write(`${id}: dropped\n`);
  return 0;
}
