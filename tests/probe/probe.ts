/**
 * The probe: whatever became of a database, is an SOS still heard? On a copy of it, with every network up again, each
 * person of the roster sends SOS once. The sender must get first aid, and the people of `responders.ts` must hear of it,
 * and nobody else; what the sender is told about whom it reached must be so.
 */
import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { seededRandom } from '../../src/cli/player.ts';
import type { Content } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import { traitsOf } from '../../src/conversation/traits.ts';
import type { Address, Person } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import type { Channel, OutboundMessage } from '../../src/line/ports.ts';
import type { KeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { respondersTo } from './responders.ts';

export interface Probed {
  /** SOS sent: one a person. */
  readonly asked: number;
  /** One line for each promise that was broken. */
  readonly faults: readonly string[];
}

export interface ProbeOptions {
  /** The database; nobody may write to it meanwhile. */
  readonly file: string;
  readonly keys: KeyRing;
  readonly content: Content;
  /** Instant at which it was left, epoch ms. */
  readonly at: number;
}

/** Pause between two people, ms: longer than the doctors' phones are spared repeats. */
const pauseMs = 150_000;

/** Sends SOS for everybody. Never writes to the file it is given. */
export async function probe({ file, keys, content, at }: ProbeOptions): Promise<Probed> {
  const folder = mkdtempSync(join(existsSync('/dev/shm') ? '/dev/shm' : tmpdir(), 'neckline-probe-'));
  const copy = join(folder, basename(file));
  for (const end of ['', '-wal']) if (existsSync(`${file}${end}`)) copyFileSync(`${file}${end}`, `${copy}${end}`);
  const store = await openStore({
    url: `sqlite:${copy}`,
    keys,
    dueAtOf: (of) => dueAtOf(content.programme, of),
    exclusive: false,
  });
  try {
    const faults: string[] = [];
    const sent: OutboundMessage[] = [];
    let now = at;
    const link = (name: string): Channel => ({
      name,
      maxText: name === 'sms' ? 0 : 4096,
      buttons: name !== 'sms',
      images: false,
      reports: false,
      send: async (message) => {
        sent.push(message);
        return { kind: 'sent' };
      },
    });
    await store.recoverOutbox(now);
    const roster = await store.roster(content.programme.id);
    const names = new Set(['sms', 'telegram', ...roster.flatMap((one) => one.addresses.map((to) => to.channel))]);
    const line = new Line({
      store,
      content,
      registry,
      clock: { now: () => now },
      random: seededRandom(7),
      log: { write: (level, event) => level === 'error' && faults.push(`the line logged ${event}`) },
      channels: new Map([...names].map((name) => [name, link(name)])),
    });
    let asked = 0;
    for (const { id } of roster) {
      now += pauseMs;
      await line.settle();
      const people = await store.roster(content.programme.id);
      const person = people.find((one) => one.id === id);
      const from = person?.addresses[0];
      if (!person || !from) continue;
      const alarmOpen = await hasAlarm(line, person, from);
      sent.length = 0;
      asked += 1;
      const handled = await line.hearText(from, `probe:${asked}:${now}`, 'SOS', null);
      await line.settle();
      if (handled !== 'done') faults.push(`SOS of ${id}: ${handled}`);
      const expected = respondersTo(person, people, content.programme, now, alarmOpen);
      faults.push(...judged(person, people, sent, expected).map((fault) => `SOS of ${id} (${person.state}): ${fault}`));
    }
    return { asked, faults };
  } finally {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** True when an alarm of this phone is open, as its own conversation has it. */
async function hasAlarm(line: Line, person: Person, from: Address): Promise<boolean> {
  const [loaded] = await line.store.load(
    [
      {
        id: 'probe:look',
        programmeId: person.programmeId,
        keys: [],
        at: line.options.clock.now(),
        seed: new Uint8Array(16),
        kind: 'text',
        from,
        text: '',
        networkAt: null,
      },
    ],
    line.options.content.flows,
  );
  return (
    loaded?.conversation?.state.threads.some((one) =>
      one.frames.some((frame) => traitsOf(line.options.content.flows, frame).alarm === 'raised'),
    ) ?? false
  );
}

function judged(
  sender: Person,
  people: readonly Person[],
  sent: readonly OutboundMessage[],
  { must, may }: ReturnType<typeof respondersTo>,
): string[] {
  const faults: string[] = [];
  const isSender = (one: OutboundMessage): boolean =>
    sender.addresses.some((to) => to.channel === one.to.channel && to.address === one.to.address);
  const own = sent.filter(isSender);
  const first = own[0]?.text ?? '';
  if (!/press/i.test(first) || !/sit up/i.test(first)) faults.push(`no first aid first, but "${first}"`);
  // Whom to call stands on the screen behind it, so that the first one is what the hands do.
  if (!own.some(({ text }) => /call/i.test(text)))
    faults.push(`nobody to call: ${own.map(({ text }) => text).join(' / ')}`);
  // What else is said to somebody at that moment is not about this alarm, and a question of an alarm is about their own.
  const alarm = sent.filter((one) => !isSender(one) && one.lane === 'sos' && one.flow === '-');
  const heard = new Set(alarm.map((one) => one.personId ?? one.to.address));
  const wanted = new Set(must.map((one) => one.id));
  const allowed = new Set([...must, ...may].map((one) => one.id));
  for (const id of wanted) if (!heard.has(id)) faults.push(`${id} does not hear of it`);
  for (const id of heard)
    if (!allowed.has(id))
      faults.push(`${id} hears of it and need not: ${alarm.find((one) => one.personId === id)?.text}`);
  if (may.length > 0 && heard.size === 0) faults.push('no doctor hears of it again');
  faults.push(...claims(people, heard, own, may.length > 0));
  return faults;
}

/** What the sender is told of whom the line has texted, held against who was. `known`: those who hear are named already. */
function claims(
  people: readonly Person[],
  heard: ReadonlySet<string>,
  own: readonly OutboundMessage[],
  known: boolean,
): string[] {
  const said = own.map((one) => one.text).join('\n');
  const names = people.filter((one) => heard.has(one.id)).map((one) => one.name);
  if (/doctor (is )?alerted/i.test(said)) return ['said to be alerted'];
  if (names.length === 0)
    return /reach nobody/.test(said) ? [] : [`nobody hears of it, and the sender is not told so: ${said}`];
  const told = /I have (?:texted|told) "?(.+?)"?(?: and (\d+) more)?(?: of it)?\. /.exec(said);
  if (/reach nobody/.test(said)) return ['said to reach nobody'];
  if (!told && known) return [];
  if (!told) return [`the sender is not told who hears of it: ${said}`];
  const count = 1 + Number(told[2] ?? 0);
  const named = names.includes(told[1]!) || /^the coordinator/.test(told[1]!);
  return [
    ...(named ? [] : [`"${told[1]}" is said to hear of it, and does not`]),
    ...(count === names.length || !named || told[2] === undefined
      ? []
      : [`${count} are said to hear of it, not ${names.length}`]),
  ];
}
