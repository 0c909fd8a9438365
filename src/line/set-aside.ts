/** An event that cannot be handled: kept for a human, and answered without anybody's state, in one commit. */

import type { LineEvent } from '../conversation/event.ts';
import { quietKeys } from '../conversation/plight.ts';
import { type WithoutState, withoutState } from '../conversation/without-state.ts';
import { errorCode } from '../text/error-code.ts';
import { countSegments } from '../text/segments.ts';
import { nothingChanged } from './change.ts';
import { placeOf } from './fault-place.ts';
import type { Handled, LineParts } from './handle.ts';
import type { ChangeSet } from './ports.ts';

const nothing: WithoutState = { says: [], people: [], due: [], onceKeys: [] };

/** How much of it is written, until one can be: all; all under no person's key; the event alone. */
const ways = ['whole', 'nameless', 'alone'] as const;
type Way = (typeof ways)[number];

/** Times that a key taken at the same moment by another event is looked at again. */
const looksAtMost = 3;

/** Keeps the event. `failed`: nothing could be stored, the provider must deliver it again. Never throws. */
export async function setAside(parts: LineParts, event: LineEvent, code: string): Promise<Handled> {
  const { log } = parts;
  let why = 'failed';
  try {
    for (const way of ways) {
      const ended = await tryWay(parts, event, code, way);
      if (ended === 'parked') log.write('error', 'event-parked', { event: event.id, kind: event.kind, code });
      if (ended === 'parked' || ended === 'duplicate') return ended;
      why = ended;
      if (ended === 'unavailable') break;
    }
  } catch (error) {
    why = errorCode(error);
  }
  log.write('error', 'park-failed', { event: event.id, code: why });
  return 'failed';
}

async function tryWay(
  parts: LineParts,
  event: LineEvent,
  code: string,
  way: Way,
): Promise<'parked' | 'duplicate' | 'failed' | 'unavailable'> {
  const { store } = parts;
  for (let look = 0; look < looksAtMost; look += 1) {
    const made = way === 'alone' ? nothing : await answerOf(parts, event);
    const [outcome] = await store.commit([changeOf(event, code, made, way)]);
    if (outcome === 'committed') return 'parked';
    if (outcome === 'unavailable') return 'unavailable';
    if (outcome === 'failed') return 'failed';
    // Another event said the same at this moment, or this one is there already.
    if ((await store.wereTaken(event.programmeId, event.keys)).some((one) => one)) return 'duplicate';
  }
  return 'failed';
}

/** What it is answered; nothing where even that meets a fault. */
async function answerOf({ store, content, log }: LineParts, event: LineEvent): Promise<WithoutState> {
  const { programme, texts } = content;
  try {
    const bare = await store.bare(event);
    const roster = await store.roster(event.programmeId).catch(() => []);
    const keys = quietKeys(event);
    const were = await store.wereTaken(event.programmeId, keys);
    const taken = new Set(keys.filter((_key, index) => were[index]));
    return withoutState({ programme, texts, roster, event, bare, taken });
  } catch (error) {
    log.write('error', 'answer-failed', { event: event.id, code: errorCode(error), at: placeOf(error) });
    return nothing;
  }
}

function changeOf(event: LineEvent, code: string, made: WithoutState, way: Way): ChangeSet {
  return {
    ...nothingChanged(event.id, event.programmeId, event.at),
    keys: [...event.keys, ...made.onceKeys],
    doneDue: event.kind === 'due' ? event.due.id : null,
    parked: { event, code },
    people: made.people,
    due: made.due,
    outbox: made.says.map((said) => {
      const { segments, encoding } = countSegments(said.text);
      const personId = way === 'nameless' ? null : said.personId;
      return { ...said, personId, at: event.at, segments, encoding };
    }),
  };
}
