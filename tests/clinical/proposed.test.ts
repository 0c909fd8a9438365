import { describe, expect, it } from 'vitest';
import type { Findings, Nodule } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import type { Proposed } from '../../src/clinical/proposed.ts';
import { adult, look } from '../published/look.ts';

const at = (site: NonNullable<Nodule['site']>, nodule: Nodule, id: string = site): Nodule => ({ ...nodule, id, site });
const solid = (mm: number) => look('solid hypo wide smooth no-foci', mm);
const jagged = (mm: number) => look('solid hypo tall jagged tiny', mm);
const cyst = (mm: number) => look('cyst', mm);
const node: Proposed = { kind: 'node', nodule: null, site: null, mm: null };
const feltLump: Proposed = { kind: 'nodule', nodule: null, site: null, mm: null };
const lump = (nodule: string, site: Proposed['site'], mm: number): Proposed => ({ kind: 'nodule', nodule, site, mm });
const unscanned = (more: Findings): Findings => {
  const { nodules: _, ...without } = adult({});
  return { ...without, ultrasound: { done: false }, ...more };
};

describe('what the needle is proposed for', () => {
  it('is named by its id, side and largest size', () => {
    const { proposed } = assess(adult({}, { nodules: [at('left', { ...solid(18), mm: [14, 18, 12] })] }));
    expect(proposed).toEqual([lump('left', 'left', 18)]);
  });

  it('says nothing of a side or size that nobody has given', () => {
    const { proposed } = assess(adult({ ...look('solid hypo wide smooth no-foci'), mmRange: [12, 16] }));
    expect(proposed).toEqual([{ kind: 'nodule', nodule: 'n1', site: null, mm: 16 }]);
  });

  it.each<[string, Findings, string]>([
    ['no needle', adult(cyst(40)), 'no-sampling'],
    ['a later look', adult(solid(8)), 'follow-up'],
    ['a child', adult(solid(30), { patient: { ageYears: 9 } }), 'refer-first'],
    ['steps that are missing', adult(solid(30), { examined: false }), 'examine-first'],
    ['an emergency', adult(solid(30), { dangerSigns: ['stridor'] }), 'emergency-now'],
    [
      'an urgent referral whose bleeding disorder forbids the needle',
      adult(solid(30), { dangerSigns: ['neck-nodes'], bleeding: ['bleeding-disorder'] }),
      'refer-urgent',
    ],
  ])('is nothing for %s', (_, findings, decision) => {
    expect(assess(findings)).toMatchObject({ decision, proposed: [] });
  });

  it('is what the doctor is asked about, too', () => {
    const open = adult(at('right', look('solid', 14)));
    expect(assess(open, { policy: 'acr-2017' })).toMatchObject({
      decision: 'ask-doctor',
      proposed: [lump('right', 'right', 14)],
    });
  });
});

describe('an urgent sample names its reason', () => {
  it('a lump too small for the size rule does not hold the neck node back: both are named, the node first', () => {
    const small = adult(at('right', solid(6)), { dangerSigns: ['neck-nodes'] });
    expect(assess(small)).toMatchObject({
      decision: 'refer-urgent',
      sampleToo: 'yes',
      proposed: [node, lump('right', 'right', 6)],
    });
  });

  it('beside a pure cyst the node alone is named', () => {
    const pure = adult(at('left', cyst(20)), { dangerSigns: ['neck-nodes'] });
    expect(assess(pure)).toMatchObject({ sampleToo: 'yes', proposed: [node] });
  });

  it('the node is felt, so a lump that needs guidance elsewhere does not stand in its way', () => {
    const deep = adult(at('left', solid(9)), { dangerSigns: ['neck-nodes'], palpable: false, guidance: false });
    expect(assess(deep)).toMatchObject({ sampleToo: 'yes', proposed: [node], guidance: 'recommended' });
  });

  it('without ultrasound the felt lump is named, and the node where that is felt', () => {
    const old = { patient: { ageYears: 80, sex: 'female' as const } };
    const hoarse = unscanned({ ...old, dangerSigns: ['hard', 'voice-change'] });
    expect(assess(hoarse)).toMatchObject({ sampleToo: 'yes', proposed: [feltLump] });
    expect(assess({ ...hoarse, dangerSigns: ['neck-nodes'] })).toMatchObject({ proposed: [node, feltLump] });
  });

  it('without ultrasound a lump measured by hand is named with its side and size', () => {
    const by = { ...adult({ ...at('left', { mm: [35] }), palpable: true }), dangerSigns: ['fixed' as const] };
    const { palpable: _, ...hand } = { ...by, ultrasound: { done: false }, guidance: false };
    expect(assess(hand)).toMatchObject({ sampleToo: 'yes', proposed: [lump('left', 'left', 35)] });
  });

  it('passes every later gate: an unasked bleeding history is the doctor’s, and names what is asked about', () => {
    const unasked = adult(at('right', solid(6)), { dangerSigns: ['neck-nodes'], bleeding: ['unknown'] });
    expect(assess(unasked)).toMatchObject({
      sampleToo: 'ask-doctor',
      proposed: [node, lump('right', 'right', 6)],
      missing: expect.arrayContaining(['bleeding']),
    });
  });

  it('of an impalpable lump without guidance there is none', () => {
    const deep = adult(solid(30), { dangerSigns: ['voice-change'], palpable: false, guidance: false });
    expect(assess(deep)).toMatchObject({ sampleToo: 'no', proposed: [] });
  });
});

describe('felt is said of the lump that is proposed', () => {
  const unguided = (...nodules: Nodule[]) => adult({}, { nodules, guidance: false });
  const felt = (nodule: Nodule, palpable: boolean): Nodule => ({ ...nodule, palpable });

  it('a felt sponge does not make the deep lump beside it one to sample by hand', () => {
    const sponge = felt(at('right', look('sponge iso wide smooth no-foci', 30)), true);
    const deep = felt(at('left', jagged(12)), false);
    expect(assess(unguided(sponge, deep))).toMatchObject({
      decision: 'sample-elsewhere',
      guidance: 'required',
      because: expect.arrayContaining(['impalpable-without-guidance']),
      proposed: [lump('left', 'left', 12)],
    });
  });

  it('a deep sponge does not send the felt lump beside it away', () => {
    const sponge = felt(at('right', look('sponge iso wide smooth no-foci', 14)), false);
    const solid30 = felt(at('left', solid(30)), true);
    expect(assess(unguided(sponge, solid30))).toMatchObject({
      decision: 'sample',
      guidance: 'recommended',
      proposed: [lump('left', 'left', 30)],
    });
  });

  it.each([
    [false, 'impalpable-without-guidance', 'guidance-required'],
    [true, 'guidance-required', 'impalpable-without-guidance'],
    [null, 'guidance-required', 'impalpable-without-guidance'],
  ] as const)(
    'of a lump that is not felt one thing is said: under ultrasound, or not here (guidance %s)',
    (guidance, said, unsaid) => {
      const { guidance: _, ...unknown } = adult(solid(30), { palpable: false });
      const { cautions } = assess(guidance === null ? unknown : { ...unknown, guidance });
      expect(cautions).toContain(said);
      expect(cautions).not.toContain(unsaid);
    },
  );

  it('a second lump that cannot be felt is not proposed here, and is said', () => {
    const first = felt(at('left', jagged(20)), true);
    const second = felt(at('right', solid(14)), false);
    const told = assess(unguided(first, second));
    expect(told).toMatchObject({ decision: 'sample', proposed: [lump('left', 'left', 20)] });
    expect(told.cautions).toContain('another-under-guidance');
    // Both are of a lump that is not felt: beside the felt one, whose needle is advised here, they would be untrue.
    expect(told.cautions).not.toContain('guidance-required');
    expect(told.cautions).not.toContain('impalpable-without-guidance');
    const guided = assess(adult({}, { nodules: [first, second], guidance: true }));
    expect(guided).toMatchObject({ proposed: [lump('left', 'left', 20), lump('right', 'right', 14)] });
    expect(guided.guidance).toBe('required');
    expect(guided.cautions).not.toContain('another-under-guidance');
  });

  it('which of two lumps of one side was felt, the neck alone does not say', () => {
    const two = [at('right', jagged(22), 'a'), at('right', look('sponge iso wide smooth no-foci', 18), 'b')];
    const told = assess(unguided(...two));
    expect(told.decision).toBe('sample-elsewhere');
    expect(told.missing).toContain('palpable');
    expect(assess(unguided({ ...two[0], palpable: true }, two[1] as Nodule)).decision).toBe('sample');
    expect(assess(unguided(two[0] as Nodule, { ...two[1], palpable: false })).decision).toBe('sample');
  });

  it('neither felt nor guidance known: the doctor is asked, never a plain yes', () => {
    const told = assess(adult(solid(18), { palpable: 'unknown', guidance: 'unknown' }));
    expect(told).toMatchObject({ decision: 'ask-doctor', missing: ['palpable', 'guidance'] });
    expect(told.because).toContain('palpable-unknown');
    expect(told.cautions).toContain('palpable-unknown');
  });

  it('a needle that is optional does not go blind either: the doctor says whether to watch or to send', () => {
    const sponge = adult(look('sponge iso wide smooth no-foci', 25), { palpable: false, guidance: false });
    expect(assess(sponge, { policy: 'ata-2015' })).toMatchObject({
      decision: 'ask-doctor',
      because: expect.arrayContaining(['impalpable-without-guidance']),
      proposed: [],
    });
  });

  it('what was not asked does not hide from the doctor that the lump cannot be sampled here', () => {
    const deep = adult(solid(30), { palpable: false, guidance: false, bleeding: ['unknown'] });
    expect(assess(deep)).toMatchObject({ decision: 'ask-doctor', proposed: [] });
    expect(assess(deep).because).toEqual(expect.arrayContaining(['bleeding-unknown', 'impalpable-without-guidance']));
  });
});
