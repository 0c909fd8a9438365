/** What the line does next by itself, in words of the page. */
import type { Due, DueWhat } from '../../conversation/event.ts';
import type { Frame } from '../../conversation/state.ts';
import type { Ahead, Line } from '../../line/line.ts';
import type { Loaded } from '../../line/ports.ts';
import type { Words } from '../../text/say-word.ts';
import { sayFirst } from './words.ts';

export interface NextEvent {
  /** Epoch ms. */
  readonly at: number;
  readonly what: string;
}

/** Null: nothing is due, whatever time passes. */
export async function nextEvent(line: Line, words: Words): Promise<NextEvent | null> {
  const ahead = await line.ahead();
  return ahead && { at: ahead.at, what: await inWords(line, words, ahead) };
}

async function inWords(line: Line, words: Words, { due, isMorning }: Ahead): Promise<string> {
  const told = await Promise.all(due.map((one) => sentenceOf(line, words, one)));
  const said = [...new Set(told.filter((one) => one !== ''))];
  if (isMorning) said.push(sayFirst(words, ['page-next-overview']));
  const [first, ...others] = said;
  if (first === undefined) return sayFirst(words, [due.length > 0 ? 'page-next-other' : 'page-next-text']);
  return others.length === 0 ? first : sayFirst(words, ['page-next-more'], { what: first });
}

/** '' where nobody would notice it. */
async function sentenceOf(line: Line, words: Words, due: Due): Promise<string> {
  const loaded = await loadedFor(line, due);
  const frame = due.what.kind === 'timer' ? frameOf(loaded, due.what) : null;
  if (due.what.kind === 'timer' && frame === null) return '';
  // Answered since: nobody is asked any more.
  if (due.what.kind === 'climb' && isAnswered(loaded, due.what)) return '';
  const programmeId = line.options.content.programme.id;
  const roster = await line.store.roster(programmeId);
  const who = roster.find((one) => one.id === due.personId)?.name ?? '';
  const what = sayFirst(words, keysOf(due.what, frame), { who });
  const tag = due.caseId === null ? null : ((await line.store.findCase(programmeId, due.caseId))?.tag ?? null);
  return what === '' || !tag ? what : sayFirst(words, ['page-next-of'], { tag, what });
}

/** Keys of what a row is about, the most telling one first. */
export function keysOf(what: DueWhat, frame: Pick<Frame, 'flow' | 'state'> | null): readonly string[] {
  if (what.kind !== 'timer') return [`page-next-${what.kind}`];
  const { flow, state } = frame ?? { flow: '-', state: '-' };
  return [`${flow}-${state}-${what.name}`, `${flow}-${what.name}`, what.name].map((one) => `page-next-${one}`);
}

/** The frame that a timer belongs to; null where it was left since, so that the timer changes nothing. */
function frameOf(loaded: Loaded | undefined, { frameId, entry }: DueWhat & { kind: 'timer' }): Frame | null {
  const frames = (loaded?.conversation?.state.threads ?? []).flatMap((one) => one.frames);
  return frames.find((one) => one.id === frameId && one.entry === entry) ?? null;
}

function isAnswered(loaded: Loaded | undefined, { questionId }: DueWhat & { kind: 'climb' }): boolean {
  return loaded?.questions.some((one) => one.id === questionId && one.answeredAt === null) !== true;
}

/** What the line would read for this row, as if it came now, which changes nothing. */
async function loadedFor({ store, options }: Line, due: Due): Promise<Loaded | undefined> {
  const { id, programmeId } = due;
  const event = { id, programmeId, keys: [], at: due.dueAt, seed: new Uint8Array(16), kind: 'due', due } as const;
  const [loaded] = await store.load([event], options.content.flows);
  return loaded;
}
