/** A place: one question as it stands open for one person, with the whole world around it. A pure value, kept from a play. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine } from '../../../src/channels/play/script.ts';
import { Player } from '../../../src/cli/player.ts';
import type { StepResult } from '../../../src/conversation/effect.ts';
import type { LineEvent } from '../../../src/conversation/event.ts';
import { registry } from '../../../src/conversation/matters.ts';
import { step } from '../../../src/conversation/step.ts';
import type { Person, World } from '../../../src/conversation/world.ts';
import { worldOf } from '../../../src/line/handle.ts';
import type { Store } from '../../../src/line/ports.ts';
import { openKeyRing } from '../../../src/store/keys.ts';
import { openStore } from '../../../src/store/open.ts';
import { countSegments } from '../../../src/text/segments.ts';
import { shipped } from '../../support/shipped.ts';

export interface Place {
  /** `flow.state`; `doctor.<about>` for a doctor with an open question; `nothing-open.<role>`. */
  readonly name: string;
  readonly person: Person;
  readonly world: World;
  readonly at: number;
  /** The text that asked. */
  readonly shown: string;
}

/** A minute after the question came: longer than a text delivered twice takes, shorter than a question is forgotten. */
const readsFor = 60_000;

/** The event of a text from this person. */
export function textEvent(person: Person, at: number, text: string): LineEvent & { readonly kind: 'text' } {
  const from = person.addresses[0]!;
  const { id } = shipped.programme;
  return {
    id: `corpus:${at}`,
    programmeId: id,
    keys: [],
    at,
    seed: new Uint8Array(16).fill(7),
    kind: 'text',
    from,
    text,
    networkAt: at,
  };
}

/** What this text would cause here; where nothing is said at once, with what is due for the person in the same instant. */
export function heardAt(place: Place, text: string): StepResult {
  const { person, at, world } = place;
  const heard = step(world, textEvent(person, at, text), registry);
  if (heard.says.some((one) => one.personId === person.id)) return heard;
  const own = heard.due.find((one) => one.personId === person.id && one.dueAt <= at);
  if (!own) return heard;
  const cases = new Map(world.cases.map((one) => [one.id, one]));
  for (const { value } of heard.cases) cases.set(value.id, value);
  const after = { ...world, conversation: heard.state ?? world.conversation, cases: [...cases.values()] };
  const { networkAt: _, text: __, from: ___, ...base } = textEvent(person, at, text);
  const next = step(after, { ...base, id: `${base.id}:due`, kind: 'due', due: own }, registry);
  return { ...heard, state: next.state, says: next.says };
}

/** Plays a script and keeps each wanted question the first time that it is asked; `wanted` null: all. */
export async function placesOf(
  script: string,
  wanted: ReadonlySet<string> | null,
): Promise<ReadonlyMap<string, Place>> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-corpus-'));
  const file = join(folder, 'play.db');
  const keys = openKeyRing(`${file}.key`);
  const kept = new Map<string, Place>();
  const phones = new Map<string, string>();
  let shown: { readonly name: string; readonly phone: string; readonly text: string }[] = [];
  const player = new Player({
    content: shipped,
    registry,
    log: { write: () => undefined },
    countSegments,
    open: (dueAtOf) => openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false }),
    emit: (played) => {
      if (played.kind !== 'message' || played.message.dir !== 'out' || !played.message.ask) return;
      const { flow, step: state, phone, text } = played.message;
      shown.push({ name: flow === '-' ? `doctor.${state}` : `${flow}.${state}`, phone, text });
    },
  });
  try {
    for (const raw of readFileSync(script, 'utf8').split('\n')) {
      shown = [];
      const line = readLine(raw);
      if (line.kind === 'phone') phones.set(line.name, line.address);
      await player.play(line);
      for (const { name, phone, text } of shown) {
        if (kept.has(name) || (wanted && !wanted.has(name))) continue;
        const place = await placeNow(await player.store(), name, phones.get(phone)!, player.now);
        if (place) kept.set(name, { ...place, shown: text });
      }
      if (wanted && kept.size === wanted.size) break;
    }
    await player.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return kept;
}

async function placeNow(
  store: Store,
  name: string,
  address: string,
  now: number,
): Promise<Omit<Place, 'shown'> | null> {
  const at = now + readsFor;
  const roster = await store.roster(shipped.programme.id);
  const person = roster.find((one) => one.addresses.some((at) => at.address === address));
  if (!person) return null;
  const [loaded] = await store.load([textEvent(person, at, '-')], shipped.flows);
  const isAsked = loaded!.conversation?.state.threads.at(-1)?.ask != null || name.startsWith('doctor.');
  return isAsked
    ? { name, person, at, world: worldOf({ content: shipped, restoredAt: null }, loaded!, roster, 0) }
    : null;
}
