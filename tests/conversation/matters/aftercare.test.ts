import { describe, expect, it } from 'vitest';
import type { CaseEvent, Json } from '../../../src/case/events.ts';
import type { SlideState } from '../../../src/clinical/fixation.ts';
import type { AttemptOutcome } from '../../../src/clinical/sampling.ts';
import { aftercare, watchOf, watchOver } from '../../../src/conversation/matters/aftercare.ts';
import { routeAfterAlcohol } from '../../../src/conversation/matters/fixing.ts';
import type { Question } from '../../../src/conversation/state.ts';
import { coded, decidedCase, momentOf, said, start, wellSupplied } from './moment-of.ts';

const minute = 60_000;
const taken = (...outcomes: readonly AttemptOutcome[]): readonly CaseEvent[] => [
  wellSupplied,
  ...coded(),
  ...outcomes.map((outcome, index): CaseEvent => ({ type: 'attempted', specimen: 's1', attempt: index + 1, outcome })),
];
const wet: SlideState[] = ['wet-at-once', 'wet-at-once'];
const fixed: CaseEvent = { type: 'slides-fixed', specimen: 's1', fixative: 'alcohol', slides: wet };

describe('how long the neck is watched', () => {
  it.each<[string, AttemptOutcome[], Json, Json, number]>([
    ['nothing special', ['material'], 'solid', [], 30],
    ['a sponge', ['material'], 'spongiform', [], 30],
    ['blood in a try', ['blood', 'material'], 'solid', [], 60],
    ['fluid', ['material'], 'mixed', [], 60],
    ['an inside that nobody saw', ['material'], 'unknown', [], 60],
    ['an inside hidden by calcium', ['material'], 'obscured', [], 60],
    ['four needles', ['too-little', 'too-little', 'too-little', 'material'], 'solid', [], 60],
    ['a blood thinner', ['material'], 'solid', ['warfarin'], 60],
    ['a bleeding disorder', ['material'], 'solid', ['bleeding-disorder'], 60],
    ['medicines nobody knows', ['material'], 'solid', ['unknown'], 60],
  ])('%s', (_why, outcomes, composition, bleeding, minutes) => {
    const answers = [said('composition', composition, 'n1'), said('bleeding', bleeding)];
    const moment = momentOf([...decidedCase(), ...answers, ...taken(...outcomes), fixed]);
    expect(watchOf(moment).length).toBe(minutes === 60 ? 'long' : 'short');
    expect(watchOver(moment) - start).toBe(minutes * minute);
  });
});

describe('when the watch may end', () => {
  const over = (at: number): { at: number; event: CaseEvent } => ({
    at,
    event: { type: 'sos-over', outcome: 'better' },
  });
  const decide = (events: Parameters<typeof momentOf>[0], now: number) =>
    aftercare.decisions!['watched-enough']!.decide(
      momentOf([...decidedCase(), ...taken('material'), fixed, ...events], { now }),
    );

  it('ends after its time when nothing happened', () => {
    expect(decide([], start + 30 * minute)).toBe('enough');
  });
  it('does not end in an alarm', () => {
    expect(decide([{ type: 'sos-raised', sign: 'other' }], start + 30 * minute)).toBe('longer');
  });
  it('begins anew after an alarm, and then knows of the hospital', () => {
    const alarm: CaseEvent = { type: 'sos-raised', sign: 'other' };
    expect(decide([alarm, over(start + 20 * minute)], start + 30 * minute)).toBe('longer');
    expect(decide([alarm, over(start + 20 * minute)], start + 80 * minute)).toBe('enough-after-alarm');
  });
});

describe('what may be posted', () => {
  it.each<[SlideState[], string]>([
    [wet, 'yes'],
    [['dried', 'dried'], 'yes'],
    [['empty', 'empty'], 'no'],
  ])('%j: %s', (slides, outcome) => {
    const moment = momentOf([...decidedCase(), ...taken('material'), { ...fixed, slides } as CaseEvent]);
    expect(aftercare.decisions!['anything-to-post']!.decide(moment)).toBe(outcome);
  });

  it('a case whose specimens are all lost is watched, then waits for a plan, and is not closed by itself', () => {
    const lost = [
      ...decidedCase(),
      ...taken('blood'),
      fixed,
      { type: 'specimen-closed', specimen: 's1', end: 'not-usable' } as const,
    ];
    expect(momentOf(lost).case!.status).toBe('aftercare');
    const watched = [...lost, { type: 'aftercare-done', outcome: 'well-and-told' } as const];
    expect(momentOf(watched).case!.status).toBe('decision');
    expect(momentOf([...watched, { type: 'closed', outcome: 'no-usable-sample' }]).case!.status).toBe('closed');
  });
});

describe('after alcohol', () => {
  it.each([
    ['oruma', [], 'stay-in-alcohol'],
    ['kesu', ['spray'], 'alcohol-then-spray'],
    ['kesu', [], 'stay-in-alcohol'],
  ])('at %s with %j it is %s', (siteId, extra, route) => {
    const supplies = said('supplies', ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded', ...extra]);
    expect(routeAfterAlcohol(momentOf([...decidedCase(), supplies], { siteId }))).toBe(route);
  });
});

describe('an answer about the neck', () => {
  const question = {
    id: 'q',
    tag: '47',
    about: 'no-aftercare-answer',
    askedOf: ['d1', 'd2'],
    answeredAt: null,
    caseId: 'c',
    item: null,
  };

  it('closes the question that its silence opened and tells those who were asked', () => {
    const moment = momentOf([...decidedCase(), ...taken('material'), fixed], {
      vars: { question: 'q' },
      answer: 'all-well',
      questions: [question as unknown as Question],
    });
    expect(aftercare.recorders!['neck-answered']!(moment)).toMatchObject([
      { do: 'put-question', question: { id: 'q', answeredAt: start, answeredBy: 'w' } },
      { do: 'post', personId: 'd1', what: { vars: { q: '47', neckNow: 'all well' } } },
      { do: 'post', personId: 'd2' },
    ]);
  });

  it('closes no other question: what a doctor was asked about an urgent referral waits for them', () => {
    const moment = momentOf([...decidedCase(), ...taken('material'), fixed], {
      vars: { question: 'q' },
      answer: 'all-well',
      questions: [{ ...question, about: 'urgent-referral' } as unknown as Question],
    });
    expect(aftercare.recorders!['neck-answered']!(moment)).toEqual([]);
  });

  it('closes nothing when nothing was asked', () => {
    const moment = momentOf([...decidedCase(), ...taken('material'), fixed], { answer: 'all-well' });
    expect(aftercare.recorders!['neck-answered']!(moment)).toEqual([]);
  });
});
