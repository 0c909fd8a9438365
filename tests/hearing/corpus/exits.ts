/** The words of exit as people write them, and the events that may follow each: read without the product's tables. */
import type { CaseEvent } from '../../../src/case/events.ts';

export type Exit = 'refuses' | 'gone' | 'later' | 'not-done';

const words: readonly (readonly [Exit, RegExp])[] = [
  ['refuses', /^(refuses|(patient|she|he) refuses|patient says no)[.!]*$/i],
  ['gone', /^(gone|patient gone|patient is gone|(patient|she|he) left)[.!]*$/i],
  ['later', /^(later|another day|not today)[.!]*$/i],
  ['not-done', /^(notdone|not done|needle not done|no needle done)[.!]*$/i],
];

/** The exit that the whole text says; null: none. */
export const exitIn = (text: string): Exit | null => words.find(([, is]) => is.test(text.trim()))?.[0] ?? null;

type Is = (event: CaseEvent) => boolean;

const answer =
  (...values: readonly string[]): Is =>
  (event) =>
    event.type === 'answered' && values.includes(String(event.value));
const told =
  (...outcomes: readonly string[]): Is =>
  (event) =>
    event.type === 'told' && outcomes.includes(event.outcome);
const ended =
  (...ends: readonly string[]): Is =>
  (event) =>
    event.type === 'specimen-closed' && ends.includes(event.end);
/** No further needle: what was taken goes on, and nothing is said of a slide that was used. */
const noMore: Is = (event) =>
  event.type === 'needle-not-done' ||
  (event.type === 'slides-fixed' && event.slides.every((one) => one === 'empty')) ||
  (event.type === 'not-sampled' && /^referred/.test(event.why));
const forgotten: Is = (event) => event.type === 'answered' && event.value === null;

export const mayFollow: Readonly<Record<Exit, readonly Is[]>> = {
  refuses: [answer('refuses', 'declined', 'end-here'), told('refuses'), ended('not-usable', 'repeat-declined'), noMore],
  gone: [
    answer('gone', 'not-found', 'not-coming', 'cannot-find'),
    told('not-found'),
    (event) => event.type === 'not-reached',
    noMore,
  ],
  later: [answer('other-day', 'new-day'), forgotten, noMore],
  'not-done': [answer('not-done'), noMore],
};
