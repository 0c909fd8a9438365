import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import type { SlideState } from '../../../src/clinical/fixation.ts';
import type { AttemptOutcome } from '../../../src/clinical/sampling.ts';
import { sampling } from '../../../src/conversation/matters/sampling.ts';
import { coded, decidedCase, momentOf, said, wellSupplied } from './moment-of.ts';

const attempts = (specimen: string, ...outcomes: readonly AttemptOutcome[]): readonly CaseEvent[] =>
  outcomes.map((outcome, index) => ({ type: 'attempted', specimen, attempt: index + 1, outcome }));

const fixed = (...slides: readonly SlideState[]): CaseEvent => ({
  type: 'slides-fixed',
  specimen: 's1',
  fixative: 'alcohol',
  slides,
});

const optionsFrom = (number: number) =>
  ['material', 'blood', 'too-little', 'unwell'].map((id, index) => ({ id, reply: `${number}${index + 1}` }));

describe('after an attempt', () => {
  it.each<[AttemptOutcome[], string]>([
    [['material'], 'material'],
    [['blood'], 'blood'],
    [['too-little'], 'too-little'],
    [['unwell'], 'unwell'],
    [['blood', 'material'], 'material'],
    [['blood', 'blood'], 'limit'],
    [['blood', 'blood', 'blood', 'blood'], 'limit'],
    [['blood', 'blood', 'blood', 'blood', 'blood'], 'limit-most'],
    [['blood', 'blood', 'blood', 'blood', 'material'], 'material'],
  ])('%j with four slides and two needles: %s', (outcomes, next) => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...outcomes)]);
    expect(sampling.decisions!['after-attempt']!.decide(moment)).toBe(next);
  });

  it('two slides are one attempt: the doctor is asked at once', () => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded('s1', 'n1', 2), ...attempts('s1', 'blood')]);
    expect(sampling.decisions!['after-attempt']!.decide(moment)).toBe('limit');
  });
});

describe('the report of attempts', () => {
  const read = (text: string, made: readonly AttemptOutcome[] = []) =>
    sampling.readers!.attempts!(
      text,
      momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...made)], {
        field: 'attempt',
        options: optionsFrom(made.length + 1),
      }),
    );

  it.each<[string, AttemptOutcome[], AttemptOutcome[]]>([
    ['11', [], ['material']],
    ['12 21', [], ['blood', 'material']],
    ['1221', [], ['blood', 'material']],
    ['13,24', [], ['too-little', 'unwell']],
    ['Blood', [], ['blood']],
    ['21', ['blood'], ['material']],
  ])('%s after %j is %j', (text, made, value) => {
    expect(read(text, made)).toEqual({ ok: true, value: { value } });
  });

  it.each<[string, AttemptOutcome[], string]>([
    ['1', [], 'not-an-option'],
    ['11', ['blood'], 'not-an-option'],
    ['21', [], 'not-an-option'],
    ['21 12', [], 'not-an-option'],
    ['11 21', [], 'not-an-option'],
    ['15', [], 'not-an-option'],
    ['12 22 31', [], 'out-of-range'],
  ])('%s after %j is refused: %s', (text, made, reason) => {
    expect(read(text, made)).toEqual({ ok: false, reason });
  });

  it('counts on from the first lump to the second', () => {
    const two = [...coded('s1', 'n1', 2), ...coded('s2', 'n2', 2), ...attempts('s1', 'material')];
    const moment = momentOf([...decidedCase(['n1', 'n2']), wellSupplied, ...two], {
      item: 's2',
      field: 'attempt',
      options: optionsFrom(2),
    });
    expect(sampling.readers!.attempts!('21', moment)).toEqual({ ok: true, value: { value: ['material'] } });
    expect(sampling.readers!.attempts!('11', moment)).toEqual({ ok: false, reason: 'not-an-option' });
  });
});

describe('the report of slides', () => {
  const options = [
    { id: 'wet-at-once', reply: '1' },
    { id: 'late', reply: '2' },
    { id: 'dried', reply: '3' },
    { id: 'none', reply: '0' },
  ];
  const read = (text: string, slides: number, lastReport: string) =>
    sampling.readers!.slides!(
      text,
      momentOf([...decidedCase(), wellSupplied, ...coded('s1', 'n1', slides), ...attempts('s1', 'material')], {
        field: 'slides',
        options,
        vars: { lastReport },
      }),
    );

  it('takes one digit a slide, empty ones too', () => {
    const value = ['wet-at-once', 'late', 'dried', 'empty'];
    expect(read('1230', 4, '11')).toEqual({ ok: true, value: { value, outcome: 'answered' } });
  });

  it('does not take a report sent twice for the slides, but does with an S', () => {
    expect(read('11', 2, '11')).toMatchObject({ ok: true, value: { outcome: 'unsure' } });
    expect(read('S11', 2, '11')).toMatchObject({ ok: true, value: { outcome: 'answered' } });
    expect(read('12', 2, '11')).toMatchObject({ ok: true, value: { outcome: 'answered' } });
    expect(read('1 2 2 1', 4, '1221')).toMatchObject({ ok: true, value: { outcome: 'unsure' } });
  });

  it('never fills up a missing slide', () => {
    expect(read('111', 4, '11')).toEqual({ ok: false, reason: 'wrong-count' });
  });
});

describe('what the slides are worth', () => {
  it.each<[string, SlideState[], string]>([
    ['oruma', ['wet-at-once', 'wet-at-once'], 'usable'],
    ['oruma', ['wet-at-once', 'late'], 'late'],
    ['oruma', ['wet-at-once', 'dried'], 'some-dried'],
    ['oruma', ['dried', 'dried', 'empty', 'empty'], 'all-dried'],
    ['oruma', ['empty', 'empty'], 'none'],
    ['kesu', ['wet-at-once', 'dried'], 'usable'],
    ['kesu', ['dried', 'dried'], 'usable'],
    ['kesu', ['empty', 'empty'], 'none'],
  ])('for the laboratory of %s %j is %s', (siteId, slides, outcome) => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded(), fixed(...slides)], { siteId });
    expect(sampling.decisions!['slides-usable']!.decide(moment)).toBe(outcome);
  });

  it('asks for dried slides in their own words where there is no fixative', () => {
    const supplies = said('supplies', ['syringe', 'fine-needles', 'slides-many']);
    const moment = momentOf([...decidedCase(), supplies, ...coded()], { siteId: 'kesu' });
    expect(sampling.decisions!['slides-how']!.decide(moment)).toBe('dried');
  });

  it('lets the worker try again under the limit only', () => {
    const again = (...made: AttemptOutcome[]) =>
      sampling.decisions!['may-again']!.decide(
        momentOf([...decidedCase(), wellSupplied, ...coded(), ...attempts('s1', ...made)]),
      );
    expect(again('material')).toBe('yes');
    expect(again('blood', 'blood', 'material')).toBe('no');
  });
});
