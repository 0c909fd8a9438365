import { describe, expect, it } from 'vitest';
import { judgeSlides } from '../../src/clinical/fixation.ts';
import { chooseFixationRoute } from '../../src/clinical/fixation-routes.ts';
import { shipped } from '../support/shipped.ts';

describe('slides after the smear', () => {
  it('slides fixed wet at once are posted as planned', () => {
    expect(judgeSlides(['wet-at-once', 'wet-at-once'], 'wet')).toEqual({
      qualities: ['good', 'good'],
      usable: 2,
      overall: 'usable',
      tellLaboratory: [],
      advice: ['post-as-planned'],
    });
  });

  it('late and dried slides among good ones are told to the laboratory', () => {
    const judged = judgeSlides(['wet-at-once', 'late', 'dried', 'empty'], 'wet');
    expect(judged.qualities).toEqual(['good', 'doubtful', 'poor', 'none']);
    expect(judged.usable).toBe(2);
    expect(judged.tellLaboratory).toEqual(['fixed-late', 'dried-before-fixing', 'empty-or-broken']);
    expect(judged.advice).toEqual([
      'mark-dried-slides-ad',
      'do-not-fix-dried-slides',
      'tell-laboratory',
      'post-as-planned',
    ]);
  });

  it('all dried for a wet stain: marked, told, posted at once, doctor asked', () => {
    const judged = judgeSlides(['dried', 'dried', 'empty'], 'wet');
    expect(judged.overall).toBe('all-dried');
    expect(judged.advice).toEqual([
      'mark-dried-slides-ad',
      'do-not-fix-dried-slides',
      'tell-laboratory',
      'post-at-once',
      'ask-doctor-about-repeat',
    ]);
  });

  it.each([[['empty', 'empty']], [[]]] as const)('nothing on the slides %j leaves nothing to post', (states) => {
    expect(judgeSlides(states, 'wet')).toMatchObject({ overall: 'all-empty', advice: ['ask-doctor-about-repeat'] });
  });

  it('dried is right and wet is wrong for a laboratory of dried slides', () => {
    expect(judgeSlides(['dried', 'dried'], 'dried').overall).toBe('usable');
    expect(judgeSlides(['wet-at-once', 'late'], 'dried')).toMatchObject({
      overall: 'none-usable',
      tellLaboratory: ['fixed-late', 'fixed-wet-not-dried'],
    });
  });
});

describe('way from the wet smear to the parcel', () => {
  const at = { alcohol: true, spray: false, stain: 'wet', agreed: null } as const;

  it.each([
    ['alcohol, nothing agreed: stays in alcohol', at, 'stay-in-alcohol'],
    ['alcohol and spray, nothing agreed: stays in alcohol', { ...at, spray: true }, 'stay-in-alcohol'],
    ['coating agreed and spray there', { ...at, spray: true, agreed: 'alcohol-then-spray' }, 'alcohol-then-spray'],
    ['coating agreed but no spray', { ...at, agreed: 'alcohol-then-spray' }, 'stay-in-alcohol'],
    ['dip-and-dry agreed by name', { ...at, agreed: 'dip-and-dry' }, 'dip-and-dry'],
    ['spray alone', { ...at, alcohol: false, spray: true, agreed: 'dip-and-dry' }, 'spray-only'],
    ['a laboratory of dried slides', { ...at, stain: 'dried' }, 'dry-on-purpose'],
    ['no fixative, laboratory stains both', { ...at, alcohol: false, stain: 'both' }, 'dry-on-purpose'],
  ] as const)('%s', (_, given, id) => {
    expect(chooseFixationRoute(given)).toBe(id);
  });

  it('no fixative for a wet stain is no way at all', () => {
    expect(chooseFixationRoute({ ...at, alcohol: false })).toBeNull();
  });

  it('dip-and-dry always carries its caution and is never chosen unasked', () => {
    // 74.6 to 83.0 % unsatisfactory or suboptimal: Safneck et al., Acta Cytol 2001;45:365-371.
    const said = shipped.texts.render('en', 'aftercare.then-dip-and-dry', () => '');
    expect(said).toMatch(/The laboratory agreed\. Most studies found it worse/);
    for (const alcohol of [true, false]) {
      for (const spray of [true, false]) {
        for (const stain of ['wet', 'dried', 'both'] as const) {
          for (const agreed of [null, 'stay-in-alcohol', 'alcohol-then-spray', 'alcohol-then-glycerine'] as const) {
            expect(chooseFixationRoute({ alcohol, spray, stain, agreed })).not.toBe('dip-and-dry');
          }
        }
      }
    }
  });
});
