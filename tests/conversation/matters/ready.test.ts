import { describe, expect, it } from 'vitest';
import { checkCode } from '../../../src/case/code.ts';
import type { CaseEvent } from '../../../src/case/events.ts';
import { hindrances } from '../../../src/conversation/matters/hindrances.ts';
import { positionNow } from '../../../src/conversation/matters/position.ts';
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

describe('a lump with fluid inside', () => {
  it('prefers a syringe on the needle, and needs none', () => {
    const mixed = said('composition', 'mixed', 'n1');
    const at = (...extra: string[]) => {
      const has = ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded', ...extra];
      return techniqueNow(momentOf([...decidedCase(), mixed, said('supplies', has)]));
    };
    expect([at('helper'), at('improvised-holder'), at('holder'), at()]).toEqual([
      'second-operator',
      'improvised-holder',
      'holder',
      'capillary',
    ]);
  });
});

describe('the checks before the needle', () => {
  it.each([
    [['all'], 'complete'],
    [['consent'], 'missing'],
    [['still', 'sharps'], 'missing'],
  ])('%j: %s', (checks, outcome) => {
    expect(decide('checks', momentOf([...decidedCase(), said('checks', checks)]))).toBe(outcome);
  });
});

describe('what stops a needle on the day', () => {
  const danger = (dangers: readonly string[], ...more: readonly CaseEvent[]) =>
    hindrances.decisions!.dangers!.decide(momentOf([...decidedCase(), ...more, said('dangers', dangers)]));

  it.each([
    [[], 'none'],
    [['not-still'], 'not-still'],
    [['sore-skin'], 'sore-skin'],
    [['high-pressure'], 'high-pressure'],
    [['not-still', 'breathless-lying', 'sore-skin'], 'breathless-lying'],
  ])('%j: %s', (dangers, outcome) => {
    expect(danger(dangers)).toBe(outcome);
  });

  it('rest or a doctor puts a high pressure right, and nothing lets a breathless patient be laid down', () => {
    expect(danger(['high-pressure'], said('pressure', 'lower'))).toBe('none');
    expect(danger(['high-pressure', 'sore-skin'], said('needle-allowed', ['sore-skin', 'high-pressure']))).toBe('none');
    expect(danger(['breathless-lying'], said('needle-allowed', ['sore-skin', 'high-pressure']))).toBe(
      'breathless-lying',
    );
  });

  it('a finger feels for a pulse where no ultrasound guides the needle, once', () => {
    const known = (...more: readonly CaseEvent[]) =>
      hindrances.decisions!['pulse-known']!.decide(momentOf([...decidedCase(), ...more]));
    expect(known()).toBe('ask');
    expect(known(said('ultrasound.done', true))).toBe('settled');
    expect(known(said('lump', []))).toBe('settled');
    expect(known(said('lump', ['pulsates']), said('ultrasound.done', true))).toBe('pulsates');
  });

  it('a finger feels once more where the examination could not tell, and not after a doctor has allowed it so', () => {
    const known = (...more: readonly CaseEvent[]) =>
      hindrances.decisions!['pulse-known']!.decide(momentOf([...decidedCase(), ...more]));
    expect(known(said('lump', ['unknown']))).toBe('ask');
    expect(known(said('lump', ['unknown']), said('ultrasound.done', true))).toBe('settled');
    expect(known(said('lump', ['unknown']), said('needle-allowed', ['pulse-unknown']))).toBe('settled');
  });

  it("a doctor's yes to one thing takes back no yes to another", () => {
    const allowed = hindrances.recorders!['needle-allowed']!(
      momentOf([
        ...decidedCase(),
        said('lump', ['unknown']),
        said('needle-allowed', ['pulse-unknown']),
        said('dangers', ['sore-skin']),
      ]),
    );
    expect(allowed).toEqual([
      { do: 'record', event: expect.objectContaining({ value: ['pulse-unknown', 'sore-skin'] }) },
    ]);
  });
});

describe('how the patient lies', () => {
  const lies = (...more: readonly CaseEvent[]) => positionNow(momentOf([...decidedCase(), ...more]));
  it.each([
    [[], 'flat'],
    [[said('patient.pregnant', 'yes'), said('patient.pregnantWeeks', 19)], 'flat'],
    [[said('patient.pregnant', 'yes'), said('patient.pregnantWeeks', 20)], 'tilted'],
    [[said('patient.pregnant', 'yes')], 'belly'],
  ])('%j: %s', (more, position) => {
    expect(lies(...more)).toBe(position);
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
