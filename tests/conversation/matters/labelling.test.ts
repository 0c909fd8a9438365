import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import type { SlideState } from '../../../src/clinical/fixation.ts';
import { fixedHow } from '../../../src/conversation/matters/fixing.ts';
import { labelling, labelOf } from '../../../src/conversation/matters/labelling.ts';
import { lump } from '../../support/targets.ts';
import { coded, decidedCase, momentOf, wellSupplied } from './moment-of.ts';

const fixed = (fixative: 'alcohol' | 'spray' | 'air-dried', slides: SlideState[], specimen = 's1'): CaseEvent => ({
  type: 'slides-fixed',
  specimen,
  fixative,
  slides,
});

describe('the label of a jar', () => {
  it.each<['alcohol' | 'spray' | 'air-dried', SlideState[], unknown]>([
    ['alcohol', ['wet-at-once', 'late', 'empty', 'empty'], [{ numbers: [1, 2], fixation: 'alcohol' }]],
    ['spray', ['wet-at-once', 'wet-at-once'], [{ numbers: [1, 2], fixation: 'spray' }]],
    [
      'alcohol',
      ['dried', 'wet-at-once', 'dried', 'empty'],
      [
        { numbers: [2], fixation: 'alcohol' },
        { numbers: [1, 3], fixation: 'dried' },
      ],
    ],
    ['air-dried', ['dried', 'late'], [{ numbers: [1, 2], fixation: 'dried' }]],
  ])('%s %j names each slide that holds something', (fixative, slides, groups) => {
    const label = labelOf(momentOf([...decidedCase(), wellSupplied, ...coded(), fixed(fixative, slides)]));
    expect(label).toMatchObject({ slides: groups, slidesInAll: slides.length, side: 'right', mm: [22, 15, 14] });
  });

  it('the jar bears the side of the specimen, whatever the findings say of other lumps', () => {
    const issued = coded().map((one) =>
      one.type === 'code-issued' ? { ...one, target: lump('n7', 'left', [31]) } : one,
    );
    const label = labelOf(momentOf([...decidedCase(), wellSupplied, ...issued, fixed('alcohol', ['wet-at-once'])]));
    expect(label).toMatchObject({ side: 'left', mm: [31] });
  });

  it('invents no birth year from an age', () => {
    const events = decidedCase().filter((one) => !(one.type === 'answered' && one.field === 'patient.birthYear'));
    const label = labelOf(momentOf([...events, wellSupplied, ...coded(), fixed('alcohol', ['wet-at-once'])]));
    expect(label.person).toEqual({ mode: 'by-hand', birthYear: null });
  });
});

describe('which jar is next', () => {
  const two = [...coded('s1', 'n1', 2), ...coded('s2', 'n2', 2)];
  const wet: SlideState[] = ['wet-at-once', 'wet-at-once'];
  const both = [...two, fixed('alcohol', wet), fixed('alcohol', wet, 's2')];
  const next = (...events: CaseEvent[]) =>
    labelling.decisions!['next-label']!.decide(
      momentOf([...decidedCase(['n1', 'n2']), wellSupplied, ...both, ...events]),
    );

  it('asks about each jar', () => {
    expect(next()).toMatchObject({ outcome: 'label', acts: [{ item: 's1' }] });
    expect(next({ type: 'labelled', specimen: 's1' })).toMatchObject({
      outcome: 'label',
      acts: [{ item: 's2' }],
    });
  });

  it('passes over a specimen whose slides were discarded', () => {
    expect(next({ type: 'specimen-closed', specimen: 's1', end: 'not-usable' })).toMatchObject({
      outcome: 'label',
    });
    expect(
      next(
        { type: 'specimen-closed', specimen: 's1', end: 'not-usable' },
        { type: 'specimen-closed', specimen: 's2', end: 'not-usable' },
      ),
    ).toMatchObject({ outcome: 'done' });
  });
});

describe('what has to be kept how', () => {
  it.each<['alcohol' | 'spray' | 'air-dried', SlideState[], string]>([
    ['alcohol', ['wet-at-once', 'empty'], 'alcohol'],
    ['alcohol', ['wet-at-once', 'dried'], 'alcohol-and-dried'],
    ['alcohol', ['dried', 'dried'], 'dried'],
    ['spray', ['late', 'empty'], 'spray'],
    ['air-dried', ['dried', 'dried'], 'dried'],
    ['alcohol', ['empty', 'empty'], 'nothing'],
  ])('%s %j: %s', (fixative, slides, how) => {
    const moment = momentOf([...decidedCase(), wellSupplied, ...coded(), fixed(fixative, slides)]);
    expect(fixedHow(moment.case!.specimens)).toBe(how);
  });
});
