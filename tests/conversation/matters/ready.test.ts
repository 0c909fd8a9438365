import { describe, expect, it } from 'vitest';
import { checkCode } from '../../../src/case/code.ts';
import { ready, techniqueNow } from '../../../src/conversation/matters/ready.ts';
import { lump } from '../../support/targets.ts';
import { decidedCase, momentOf, said } from './moment-of.ts';

const decide = (name: string, moment: ReturnType<typeof momentOf>) => ready.decisions![name]!.decide(moment);

describe('supplies before the needle', () => {
  it.each([
    [['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded'], 'enough'],
    [['syringe', 'needle-22', 'slides-few', 'spray'], 'enough'],
    [['syringe', 'fine-needles', 'slides-many'], 'no-fixative'],
    [['syringe', 'fine-needles', 'slides-many', 'weak-alcohol'], 'no-fixative'],
    [['syringe', 'slides-many', 'alcohol-lidded'], 'lacking'],
    [['fine-needles', 'slides-many', 'alcohol-lidded'], 'lacking'],
    [['slides-many'], 'no-fixative-and-more'],
    [['none'], 'no-fixative-and-more'],
  ])('%j: %s', (supplies, outcome) => {
    expect(decide('supplies', momentOf([...decidedCase(), said('supplies', supplies)]))).toBe(outcome);
  });

  it('a laboratory that stains dried slides lets sampling go on without fixative', () => {
    const supplies = said('supplies', ['syringe', 'fine-needles', 'slides-many']);
    expect(decide('supplies', momentOf([...decidedCase(), supplies], { siteId: 'kesu' }))).toBe('enough');
  });

  it('one needle and two slides are for one lump of two', () => {
    const supplies = said('supplies', ['syringe', 'needle-22', 'slides-few', 'spray']);
    const moment = momentOf([...decidedCase(['n2', 'n1']), supplies]);
    expect(decide('supplies', moment)).toBe('for-one-lump');
    expect(ready.recorders!['issue-codes']!(moment)).toMatchObject([{ event: { target: lump('n2'), slides: 2 } }]);
  });
});

describe('the way of sampling', () => {
  it.each([
    [['holder'], null, 'holder'],
    [['holder'], 'capillary', 'capillary'],
    [[], null, 'capillary'],
    [['helper'], 'second-operator', 'second-operator'],
    [[], 'second-operator', 'capillary'],
    [['improvised-holder'], 'improvised-holder', 'improvised-holder'],
    [['holder', 'improvised-holder'], 'improvised-holder', 'holder'],
  ])('with %j and the choice %s it is %s', (extra, choice, technique) => {
    const has = ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded', ...extra];
    const moment = momentOf([...decidedCase(), said('supplies', has), said('technique', choice)]);
    expect(techniqueNow(moment)).toBe(technique);
  });
});

describe('the checks before the needle', () => {
  const all = ['consent', 'identifiers', 'position', 'still', 'clean', 'sharps'];
  it.each([
    [all, 'complete'],
    [all.slice(1), 'missing'],
    [[], 'missing'],
    [[...all, 'not-still'], 'not-still'],
  ])('%j: %s', (checks, outcome) => {
    expect(decide('checks', momentOf([...decidedCase(), said('checks', checks)]))).toBe(outcome);
  });
});

describe('codes', () => {
  it('two lumps get a valid code and two slides each', () => {
    const supplies = said('supplies', ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded']);
    const acts = ready.recorders!['issue-codes']!(momentOf([...decidedCase(['n1', 'n2']), supplies]));
    expect(acts).toMatchObject([
      { event: { type: 'code-issued', specimen: 's1', target: lump('n1'), slides: 2 } },
      { event: { type: 'code-issued', specimen: 's2', target: lump('n2'), slides: 2 } },
    ]);
    const codes = acts.map((act) => (act.do === 'record' && act.event.type === 'code-issued' ? act.event.code : ''));
    expect(codes.map((code) => checkCode(code).ok)).toEqual([true, true]);
    expect(new Set(codes).size).toBe(2);
  });

  it.each([
    ['48291354', 'answered'],
    ['4829-1354', 'answered'],
    ['12345676', 'other-code'],
  ])('read from the slide as %s: %s', (text, outcome) => {
    const issued = {
      type: 'code-issued',
      specimen: 's1',
      target: lump('n1'),
      code: '48291354',
      technique: 'capillary',
    } as const;
    const moment = momentOf([...decidedCase(), { ...issued, slides: 4 }], { options: [] });
    expect(ready.readers!['slide-code']!(text, moment)).toMatchObject({ ok: true, value: { outcome } });
  });

  it.each([
    ['48291345', 'bad-code-check'],
    ['4829135', 'bad-code-length'],
  ])('%s is refused: %s', (text, reason) => {
    const issued = {
      type: 'code-issued',
      specimen: 's1',
      target: lump('n1'),
      code: '48291354',
      technique: 'capillary',
    } as const;
    const moment = momentOf([...decidedCase(), { ...issued, slides: 4 }], { options: [] });
    expect(ready.readers!['slide-code']!(text, moment)).toEqual({ ok: false, reason });
  });
});
