/**
 * Long texts that a network brings in parts. They are kept in the sender's conversation until the last one is there, in
 * whatever order they come; what stays away is asked for again, whole.
 */
import type { DueWhat, LineEvent, TextPart } from './event.ts';
import { askingThread } from './interpret.ts';
import { durationOf } from './programme.ts';
import type { ConversationState, PartSet } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Parts of the longest text that is read: 1,600 characters at 153 a part (3GPP TS 23.038, GSM-7 behind a header of 6 octets). */
const mostParts = 11;
/** Texts of one phone of which parts are remembered, given up ones too. */
const mostSets = 4;

/** A text whose last part came. */
export interface JoinedText {
  readonly text: string;
  readonly networkAt: number | null;
}

/** The words that a step may read because of this event: of a part that makes its text whole, the whole text. */
export function wordsOf(event: Exclude<LineEvent, { kind: 'due' }>, state: ConversationState | null): string {
  if (event.kind === 'tap') return event.reply;
  if (event.kind === 'text' || !event.part) return event.text;
  const { reference, total, number } = event.part;
  const before = keptOf(state, { reference, total }, event.at);
  return inOrder({ ...before?.texts, [number]: event.text }, total);
}

/** When the network took the words from the phone; null = not known. */
export function networkAtOf(event: LineEvent): number | null {
  if (event.kind === 'text') return event.networkAt;
  return event.kind === 'unreadable' ? (event.part?.networkAt ?? null) : null;
}

/** The words of a part with those of the parts that are there right before and behind it. */
export function withNeighbours(turn: Turn, part: TextPart, text: string): string {
  const texts: PartSet['texts'] = { ...setOf(turn, part)?.texts, [part.number]: text };
  let [first, last] = [part.number, part.number];
  while (String(first - 1) in texts) first -= 1;
  while (String(last + 1) in texts) last += 1;
  return Array.from({ length: last - first + 1 }, (_, index) => texts[String(first + index)]).join('');
}

/** Takes a part in. Gives the text when it is whole now; null while something is missing, or nobody waits for it any more. */
export function joinPart(turn: Turn, person: Person, part: TextPart, text: string): JoinedText | null {
  if (part.total > mostParts) {
    // Never read: said once, at the first of its parts.
    turn.onceKeys.push(`parts:${person.id}:${part.reference}:${part.total}:${turn.now - (turn.now % dayMs)}`);
    turn.say(person, 'common.too-long', { frame: null, caseId: askingThread(turn)?.caseId ?? null });
    turn.disturbed = true;
    return null;
  }
  const number = String(part.number);
  const before = setOf(turn, part);
  if (before?.texts[number] === text && !before.givenUp) return null;
  // A number that was there means that the phone counts from the start again: another text.
  const known = before && !(number in before.texts) ? before : null;
  const set: PartSet = known ?? {
    reference: part.reference,
    total: part.total,
    since: turn.now,
    networkAt: null,
    texts: {},
  };
  const texts = { ...set.texts, [number]: set.givenUp ? '' : text };
  const whole = Object.keys(texts).length === set.total;
  put(turn, set, whole ? null : { ...set, texts, networkAt: earlier(set.networkAt, part.networkAt) });
  if (set.givenUp) return null;
  if (whole) {
    return { text: inOrder(texts, set.total), networkAt: earlier(set.networkAt, part.networkAt) };
  }
  if (!known) {
    const what = { kind: 'part-missing', reference: set.reference, total: set.total, since: set.since } as const;
    turn.post(person.id, what, { at: turn.now + durationOf(turn.world.programme, 'parts-wait') });
  }
  return null;
}

/** A part of the text was heard as an alarm, or one never came: what else comes of it is not read. Its words are forgotten. */
export function giveUp(turn: Turn, part: Pick<PartSet, 'reference' | 'total'> & { readonly number?: number }): void {
  const set = setOf(turn, part) ?? { ...part, since: turn.now, networkAt: null, texts: {} };
  const numbers = [...Object.keys(set.texts), ...(part.number === undefined ? [] : [String(part.number)])];
  const { reference, total, since, networkAt } = set;
  const texts = Object.fromEntries(numbers.map((one) => [one, '']));
  const done = new Set(numbers).size === total;
  put(turn, set, done ? null : { reference, total, since, networkAt, texts, givenUp: true });
}

/** The rest of a long text has not come: it is asked for again. */
export function missPart(turn: Turn, person: Person, what: DueWhat & { readonly kind: 'part-missing' }): void {
  const set = setOf(turn, what);
  if (!set || set.givenUp || set.since !== what.since) return;
  giveUp(turn, { reference: set.reference, total: set.total });
  turn.say(person, 'common.unreadable-part', { frame: null, caseId: askingThread(turn)?.caseId ?? null });
  turn.disturbed = true;
}

function inOrder(texts: PartSet['texts'], total: number): string {
  return Array.from({ length: Math.min(total, mostParts) }, (_, index) => texts[String(index + 1)] ?? '').join('');
}

const dayMs = 24 * 3_600_000;

function setOf(turn: Turn, of: Pick<PartSet, 'reference' | 'total'>): PartSet | undefined {
  return keptOf(turn.state, of, turn.now);
}

/** After a day the phone has counted round: what comes under the same reference is another text. */
function keptOf(
  state: ConversationState | null,
  of: Pick<PartSet, 'reference' | 'total'>,
  now: number,
): PartSet | undefined {
  const found = state?.parts?.find((one) => one.reference === of.reference && one.total === of.total);
  return found && now - found.since < dayMs ? found : undefined;
}

/** In place of the one before; null: it is over. The oldest go when there are too many. */
function put(turn: Turn, before: Pick<PartSet, 'reference' | 'total'>, set: PartSet | null): void {
  const others = (turn.state.parts ?? []).filter(
    (one) => one.reference !== before.reference || one.total !== before.total,
  );
  const { parts: _, ...rest } = turn.state;
  const parts = [...others, ...(set ? [set] : [])].slice(-mostSets);
  turn.state = parts.length === 0 ? rest : { ...rest, parts };
}

function earlier(one: number | null, other: number | null): number | null {
  return one === null || other === null ? (one ?? other) : Math.min(one, other);
}
