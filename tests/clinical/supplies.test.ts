import { describe, expect, it } from 'vitest';
import { judgeSupplies, type Supply, type SupplyJudgement } from '../../src/clinical/supplies.ts';

const BASIC: Supply[] = ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded'];

function ready(judged: SupplyJudgement): Extract<SupplyJudgement, { ok: true }> {
  if (!judged.ok) throw new Error(`stopped: ${judged.stops.join(', ')}`);
  return judged;
}

describe('supplies at hand', () => {
  it.each<[string, Supply[], string[]]>([
    ['no holder: capillary first', BASIC, ['capillary']],
    ['no holder, helper: capillary, then the helper pulls', [...BASIC, 'helper'], ['capillary', 'second-operator']],
    [
      'tubing comes last',
      [...BASIC, 'helper', 'improvised-holder'],
      ['capillary', 'second-operator', 'improvised-holder'],
    ],
    ['a holder is used, capillary stays possible', [...BASIC, 'holder'], ['holder', 'capillary']],
    ['a real holder needs no improvised one', [...BASIC, 'holder', 'improvised-holder'], ['holder', 'capillary']],
  ])('%s', (_, has, techniques) => {
    const judged = ready(judgeSupplies({ has, stain: 'wet' }));
    expect(judged.techniques).toEqual(techniques);
    expect(judged.technique).toBe(techniques[0]);
  });

  it.each<[string, Supply[], string[]]>([
    ['syringe', ['fine-needles', 'slides-many', 'spray'], ['no-syringe']],
    ['needle', ['syringe', 'slides-many', 'spray'], ['no-needle']],
    ['slides', ['syringe', 'fine-needles', 'spray'], ['no-slides']],
    ['fixative', ['syringe', 'fine-needles', 'slides-many'], ['no-fixative']],
    ['everything', [], ['no-syringe', 'no-needle', 'no-slides', 'no-fixative']],
  ])('a missing %s stops the case', (_, has, stops) => {
    expect(judgeSupplies({ has, stain: 'wet' })).toMatchObject({ ok: false, stops });
  });

  it('a single slide counts as none', () => {
    expect(judgeSupplies({ has: BASIC, stain: 'wet', slideCount: 1 })).toMatchObject({
      ok: false,
      stops: ['no-slides'],
    });
  });

  it('70 % alcohol and hand gel are no fixative, and this is said', () => {
    const has: Supply[] = ['syringe', 'fine-needles', 'slides-many', 'weak-alcohol'];
    expect(judgeSupplies({ has, stain: 'wet' })).toEqual({
      ok: false,
      stops: ['no-fixative'],
      notes: ['weak-alcohol-is-no-fixative'],
    });
  });

  it('a laboratory that stains dried slides needs no fixative', () => {
    const has: Supply[] = ['syringe', 'fine-needles', 'slides-many'];
    const dried = ready(judgeSupplies({ has, stain: 'dried' }));
    expect([dried.fixative, dried.slides]).toEqual(['none', 'all-dried']);
    const both = ready(judgeSupplies({ has, stain: 'both' }));
    expect(both.slides).toBe('all-dried');
    expect(both.notes).toContain('dried-only-tell-laboratory');
  });

  it('slides for a laboratory of dried slides stay out of the alcohol even where there is some', () => {
    expect(ready(judgeSupplies({ has: BASIC, stain: 'dried' })).fixative).toBe('none');
    expect(ready(judgeSupplies({ has: BASIC, stain: 'both' })).slides).toBe('one-of-each-pair-dried');
  });

  it.each([
    ['two needles and four slides', { has: BASIC }, 2],
    ['2-3 slides', { has: ['syringe', 'fine-needles', 'slides-few', 'spray'] as Supply[] }, 1],
    ['one 22 G needle that nobody counted', { has: ['syringe', 'needle-22', 'slides-many', 'spray'] as Supply[] }, 1],
    ['counted supplies, policy of three', { has: BASIC, needleCount: 9, slideCount: 20, policyLimit: 3 }, 3],
    ['never more than five', { has: BASIC, needleCount: 9, slideCount: 20, policyLimit: 8 }, 5],
  ])('%s limit the attempts', (_, at, attempts) => {
    expect(ready(judgeSupplies({ ...at, stain: 'wet' })).attempts).toBe(attempts);
  });

  it('22 G alone is accepted with its note', () => {
    const judged = ready(judgeSupplies({ has: ['syringe', 'needle-22', 'slides-many', 'spray'], stain: 'wet' }));
    expect(judged.notes).toContain('gauge-22-bleeds-more');
  });
});
