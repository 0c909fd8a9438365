/** `neckline parked`: events whose handling failed twice. A human looks, mends, and tries again or lets go. */
import { randomBytes } from 'node:crypto';
import type { Content } from '../content/load.ts';
import type { LineEvent } from '../conversation/event.ts';
import { saysSos } from '../conversation/hearing/sos-spelling.ts';
import { registry } from '../conversation/matters.ts';
import { durationOf, siteOf } from '../conversation/programme.ts';
import { nothingChanged } from '../line/change.ts';
import { Handler } from '../line/handle.ts';
import type { Log, Parked } from '../line/ports.ts';
import type { LineStore } from '../store/store.ts';
import { countSegments } from '../text/segments.ts';
import { clockWords } from '../text/time-words.ts';
import { Refused } from './open-line.ts';
import { commandParts, type Io, operate, readWords, withStore } from './operate.ts';
import { personMeant } from './person-meant.ts';

const usage = `neckline parked [list]
neckline parked retry ID
neckline parked drop ID --reason WORDS
neckline parked fresh WHO

list   what is parked: id, instant, kind, the code of the fault, and whose it was by person id; no words of anybody
retry  handles it now and tells its sender so; it leaves the list when that succeeds. Exit code 1 when it fails again. A text
       of over an hour ago answers no question any more: its sender is asked to send it again. An SOS is always handled
drop   takes it off the list for good; the reason goes to the log
fresh  gives the phone of somebody (id, whole name or address) a fresh start, as FRESH by text does: questions to it are
       closed, open patients and alarms stay
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
  if (read && word === 'fresh' && id !== undefined && more.length === 0 && !reason) {
    return operate(io, () => withStore(io, (store, content) => fresh(store, content, id, io)));
  }
  io.stderr.write(usage);
  return Promise.resolve(2);
}

async function list(store: LineStore, io: Io): Promise<number> {
  const parked = await store.parked();
  for (const one of parked) {
    const kind = one.event.kind === 'due' ? `due ${one.event.due.what.kind}` : one.event.kind;
    io.stdout.write(`${one.id}\t${new Date(one.at).toISOString()}\t${kind}\t${one.code}\t${one.personId ?? '-'}\n`);
  }
  io.stdout.write(`${parked.length} parked\n`);
  return 0;
}

async function found(store: LineStore, id: string): Promise<Parked> {
  const one = (await store.parked()).find((parked) => parked.id === id);
  if (!one) throw new Refused(`${id.slice(0, 80)}: nothing with this id is parked`);
  return one;
}

/** A text that is older answers a question that may not be the one that is open now, ms. Our convention. */
const freshMs = 3_600_000;

/** Under a key of its own: the event's are marked as seen. Dying half-way, the next retry finds it done. */
async function retry(store: LineStore, content: Content, id: string, io: Io): Promise<number> {
  const parked = await found(store, id);
  const { event } = parked;
  const { log } = commandParts(io);
  const now = Date.now();
  const old = event.kind !== 'due' && now - parked.at >= freshMs && !saysSos(wordsOf(event));
  const handled = old ? 'sent back' : await tryAgain(store, content, event, log, now);
  if (handled === 'failed') {
    io.stdout.write(`${id}: failed again; it stays parked\n`);
    return 1;
  }
  await answerSender(store, content, parked, old ? 'send-again' : 'handled-now', now);
  await store.unpark(id);
  io.stdout.write(`${id}: ${handled}\n`);
  return 0;
}

function wordsOf(event: Exclude<LineEvent, { kind: 'due' }>): string {
  return event.kind === 'tap' ? event.reply : event.text;
}

function tryAgain(store: LineStore, content: Content, event: LineEvent, log: Log, now: number): Promise<string> {
  const random = { bytes: (count: number) => randomBytes(count) };
  const handler = new Handler({ store, content, registry, random, log, retries: true });
  return handler.handle({ ...event, keys: [`retry:${event.id}`], at: now, seed: random.bytes(16) });
}

/** Tells whoever wrote it what became of it, once. */
async function answerSender(
  store: LineStore,
  content: Content,
  { event, at, personId }: Parked,
  key: 'send-again' | 'handled-now',
  now: number,
): Promise<void> {
  if (event.kind === 'due') return;
  const { programme, texts } = content;
  const person = (await store.roster(programme.id)).find((one) => one.id === personId);
  const zone = siteOf(programme, person?.siteId ?? '').zone;
  const text = texts.render(person?.locale ?? 'en', `aside.${key}`, () => clockWords(at, zone));
  const { segments, encoding } = countSegments(text);
  const once = `retried:${event.id}`;
  const message = {
    id: once,
    to: event.from,
    personId: person ? personId : null,
    caseId: null,
    at: now,
    lane: 'reply',
    text,
    segments,
    encoding,
    flow: '-',
    step: key,
    code: null,
    ask: null,
    validUntil: now + durationOf(programme, 'valid-reply'),
    notBefore: now,
    safety: true,
  } as const;
  const [outcome] = await store.commit([{ ...nothingChanged(once, programme.id, now), outbox: [message] }]);
  if (outcome !== 'committed' && outcome !== 'duplicate') throw new Error(`the answer could not be stored: ${outcome}`);
}

/** As a coordinator's FRESH: an event in that person's conversation. */
async function fresh(store: LineStore, content: Content, who: string, io: Io): Promise<number> {
  const { programme } = content;
  const person = personMeant(who, await store.roster(programme.id));
  if (typeof person === 'string') throw new Refused(person);
  const now = Date.now();
  const id = `fresh:${person.id}:${now}`;
  const what = { kind: 'mend', caseId: null, freshBy: programme.name } as const;
  const due = { id, programmeId: programme.id, personId: person.id, caseId: null, frameId: null, dueAt: now, what };
  const [outcome] = await store.commit([
    { ...nothingChanged(`${id}:put`, programme.id, now), due: [{ ...due, name: 'mend' }] },
  ]);
  if (outcome !== 'committed') throw new Error(`the fresh start could not be stored: ${outcome}`);
  io.stdout.write(`${person.id}: begins anew as soon as the line runs\n`);
  return 0;
}

async function drop(store: LineStore, id: string, reason: string, io: Io): Promise<number> {
  await found(store, id);
  await store.unpark(id);
  const { log } = commandParts(io);
  log.write('warn', 'parked-dropped', { eventId: id, code: reason.slice(0, 80) });
  io.stdout.write(`${id}: dropped\n`);
  return 0;
}
