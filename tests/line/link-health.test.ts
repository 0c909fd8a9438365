import { describe, expect, it } from 'vitest';
import { creditState, linkState } from '../../src/line/link-health.ts';
import type { LinkFacts } from '../../src/line/ports.ts';

const minute = 60_000;
const now = Date.UTC(2030, 2, 4, 8);
const sent = (...ages: readonly [minutesAgo: number, reported: boolean][]): LinkFacts => ({
  sent: ages.map(([ago, reported]) => ({
    handedAt: now - ago * minute,
    reportedAt: reported ? now - ago * minute + 1000 : null,
  })),
  heardAt: null,
  waitingSince: null,
  credit: null,
});
const link = { reports: true, offsetMs: null, offsetAtMostMs: minute };
const many = (count: number, reported: boolean): [number, boolean][] =>
  Array.from({ length: count }, (_, index) => [20 + index, reported]);

describe('a link is judged by results', () => {
  it.each([
    ['all is reported', sent([20, true], [30, true], [40, true]), 'ok'],
    ['the last texts are too young to judge', sent([1, false], [2, false], [3, false], [60, true]), 'ok'],
    [
      'reports used to come and the last three lack theirs',
      sent([20, false], [25, false], [30, false], [60, true]),
      'doubtful',
    ],
    ['two of them only', sent([20, false], [25, false], [30, true]), 'ok'],
    ['a younger text was reported', sent([1, true], [20, false], [25, false], [30, false], [60, true]), 'ok'],
    ['ten texts and never a report', sent(...many(10, false)), 'mute'],
    ['nine of them say nothing yet', sent(...many(9, false)), 'ok'],
  ] as const)('by its reports: %s: %s', (_what, facts, state) => {
    expect(linkState(facts, link, now)).toBe(state);
  });

  it('a channel that has no reports is never doubted for lack of them', () => {
    expect(linkState(sent(...many(20, false)), { ...link, reports: false }, now)).toBe('ok');
  });

  it('a text that waits for over three minutes, nothing that can come in, and a clock that is off, are said', () => {
    expect(linkState({ ...sent(), waitingSince: now - 4 * minute }, link, now)).toBe('slow');
    expect(linkState({ ...sent(), waitingSince: now - 2 * minute }, link, now)).toBe('ok');
    expect(linkState(sent(), { ...link, offsetMs: -2 * minute }, now)).toBe('clock');
    expect(linkState(sent(), { ...link, deafMs: 4 * minute }, now)).toBe('deaf');
    expect(linkState(sent(), { ...link, deafMs: 2 * minute }, now)).toBe('ok');
  });
});

describe('a prepaid budget', () => {
  it.each([
    [null, 'enough'],
    [{ left: 2000, granted: 2000 }, 'enough'],
    [{ left: 401, granted: 2000 }, 'enough'],
    [{ left: 400, granted: 2000 }, 'low'],
    [{ left: 200, granted: 2000 }, 'reserve'],
    [{ left: 0, granted: 2000 }, 'none'],
    [{ left: -3, granted: 2000 }, 'none'],
  ] as const)('%j is %s', (credit, state) => {
    expect(creditState(credit)).toBe(state);
  });
});
