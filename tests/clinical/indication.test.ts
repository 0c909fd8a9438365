import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { assess, weighCase } from '../../src/clinical/indication.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import { cautions, reasons } from '../../src/clinical/reasons.ts';
import { adult, look } from '../published/look.ts';
import { runs } from '../support/runs.ts';
import { fewerAnswers, fullFindings, fullNodule, seed, whichToKeep } from './arbitrary-findings.ts';

const policy = fc.constantFrom(...policyIds);
const needle = ['sample', 'sample-elsewhere', 'optional'];

describe('a gate that nobody has asked about is not passed', () => {
  const sampled = adult(look('solid hypo wide smooth no-foci', 18));
  it.each<[string, Findings, string, string]>([
    ['danger signs', { dangerSigns: ['unknown'] }, 'danger-signs-unknown', 'dangerSigns'],
    ['age', { patient: { sex: 'female', pregnant: 'no' } }, 'age-unknown', 'patient.ageYears'],
    ['risks', { risks: ['unknown'] }, 'risks-unknown', 'risks'],
    ['TSH', { tsh: 'unknown' }, 'tsh-unknown', 'tsh'],
    ['bleeding', { bleeding: ['unknown'] }, 'bleeding-unknown', 'bleeding'],
  ])('%s', (_, more, because, missing) => {
    const assessed = assess({ ...sampled, ...more });
    expect(assessed.decision).toBe('ask-doctor');
    expect(assessed.because[0]).toBe(because);
    expect(assessed.missing[0]).toBe(missing);
  });

  it('but a sign that is known stands, and the rest of the list stays to be asked', () => {
    const assessed = assess({ ...sampled, dangerSigns: ['voice-change', 'unknown'] });
    expect(assessed).toMatchObject({ decision: 'refer-urgent', because: ['voice-change'], missing: ['dangerSigns'] });
  });

  it('a bleeding history that nobody has asked does not stand in the way of no needle', () => {
    expect(assess({ ...adult(look('cyst', 40)), bleeding: ['unknown'] }).decision).toBe('no-sampling');
  });
});

describe('what is said beside a decision', () => {
  const cases: [string, Findings, string, string | null][] = [
    ['exactly 10 mm, solid', adult(look('solid hypo wide smooth no-foci', 10)), 'exactly-10-mm', 'mm'],
    [
      'a probe that is not linear',
      adult(look('cyst', 20), { ultrasound: { done: true, probe: 'other', standoff: true } }),
      'poor-probe',
      'ultrasound.probe',
    ],
    [
      '3.5 MHz without a pad',
      adult(look('cyst', 20), { ultrasound: { done: true, mhz: 3.5 } }),
      'poor-probe',
      'ultrasound.standoff',
    ],
    [
      'a sponge with tiny dots',
      adult(look('sponge hypo tall lobed tiny', 30)),
      'contradictory-features',
      'composition',
    ],
    [
      'a solid part larger than the nodule',
      adult({ ...look('mixed iso wide smooth no-foci', 12), solidPartMm: 20 }),
      'contradictory-features',
      'solidPartMm',
    ],
    [
      'black and yet solid',
      adult({ ...look('solid wide smooth no-foci', 12), echogenicity: 'anechoic' }),
      'contradictory-features',
      'echogenicity',
    ],
    [
      'common practice samples, ACR does not',
      adult(look('solid iso wide smooth no-foci', 11)),
      'policies-disagree',
      null,
    ],
    ['small, solid, with tiny dots', adult(look('solid hypo wide smooth tiny', 8)), 'small-but-suspicious', null],
    [
      'a range of sizes',
      adult({ ...look('solid hypo wide smooth no-foci'), mmRange: [12, 16] }),
      'size-uncertain',
      null,
    ],
  ];
  it.each(cases)('%s', (_, findings, caution, missing) => {
    const assessed = assess(findings);
    expect(assessed.cautions).toContain(caution);
    if (missing !== null) expect(assessed.missing).toContain(missing);
  });

  it.each(['cyst', 'sponge iso wide smooth no-foci'])('10 mm exactly is no matter for a %s', (row) => {
    expect(assess(adult(look(row, 10))).cautions).not.toContain('exactly-10-mm');
  });

  it('an unclassified nodule under ATA is to be treated as intermediate', () => {
    const assessed = assess(adult(look('solid iso wide smooth tiny', 14)), { policy: 'ata-2015' });
    expect(assessed).toMatchObject({
      decision: 'ask-doctor',
      cautions: expect.arrayContaining(['treat-as-intermediate']),
    });
  });

  it('felt, scanned, and no nodule seen: the doctor is asked; nothing felt and nothing seen: no needle', () => {
    const { nodules: _, ...nothing } = adult({});
    expect(assess({ ...nothing, nodules: [] }).decision).toBe('ask-doctor');
    expect(assess({ ...nothing, nodules: [], palpable: false }).decision).toBe('no-sampling');
  });
});

describe('several nodules', () => {
  const solid = (id: string, mm: number, foci = 'no-foci') => ({ ...look(`solid hypo wide smooth ${foci}`, mm), id });
  const select = (findings: Findings) => weighCase(findings, 'acr-2017').selection;

  it('at most four are weighed and two proposed, by suspicion and then by size', () => {
    const nodules = [
      solid('a', 30),
      solid('b', 12, 'tiny'),
      solid('c', 20),
      solid('d', 16),
      solid('e', 40),
      { ...look('cyst', 50), id: 'f' },
    ];
    expect(select(adult({}, { nodules }))).toEqual({ weighed: ['b', 'e', 'a', 'c'], proposed: ['b', 'e'] });
    expect(assess(adult({}, { nodules })).cautions).toContain('more-than-four-nodules');
  });

  it('a nodule that needs no needle is not proposed beside one that does', () => {
    expect(select(adult({}, { nodules: [solid('a', 30), { ...look('cyst', 50), id: 'b' }] })).proposed).toEqual(['a']);
  });

  it('one that is undetermined keeps the case open unless another is sampled', () => {
    const open = { ...look('solid', 12), id: 'open' };
    const small = solid('small', 8);
    const assessOf = (...nodules: Findings['nodules'] & object) =>
      assess(adult({}, { nodules }), { policy: 'acr-2017' });
    expect(assessOf(open, small)).toMatchObject({
      decision: 'ask-doctor',
      missing: expect.arrayContaining(['echogenicity']),
    });
    expect(assessOf(open, solid('large', 30))).toMatchObject({ decision: 'sample', missing: [] });
  });

  it('one that is undetermined outweighs one where a needle is optional', () => {
    const sponge = { ...look('sponge iso wide smooth no-foci', 25), id: 'sponge' };
    const unclassified = { ...look('solid iso wide smooth tiny', 14), id: 'unclassified' };
    const nodules = [sponge, unclassified];
    expect(assess(adult({}, { nodules: [sponge] }), { policy: 'ata-2015' }).decision).toBe('optional');
    expect(assess(adult({}, { nodules }), { policy: 'ata-2015' }).decision).toBe('ask-doctor');
  });
});

describe('whatever the findings', () => {
  it('`sample` never stands without both examination and ultrasound', () => {
    fc.assert(
      fc.property(fullFindings, whichToKeep, policy, (findings, keep, governing) => {
        const fewer = fewerAnswers(findings, keep);
        const { decision } = assess(fewer, { policy: governing });
        if (needle.includes(decision)) expect([fewer.examined, fewer.ultrasound?.done]).toEqual([true, true]);
      }),
      { seed, numRuns: runs(400, 8_000) },
    );
  });

  it('a needle, or none, that is named with answers missing is what the whole truth comes to', () => {
    fc.assert(
      fc.property(fullFindings, whichToKeep, policy, (findings, keep, governing) => {
        const [nodule] = findings.nodules ?? [];
        fc.pre(nodule?.composition === 'mixed' || nodule?.composition === 'solid');
        fc.pre(nodule.capsule === 'intact');
        // A solid part larger than its lump is no truth.
        fc.pre(Number(nodule.solidPartMm) <= (nodule.mm?.[0] ?? 0));
        // Platelets and INR are asked for only with a drug that makes them matter.
        fc.pre(findings.platelets === 200 && findings.inr !== 3.4);
        fc.pre(findings.scan === 'not-hot' && findings.overactiveSigns === false);
        const truth = assess(findings, { policy: governing }).decision;
        const guess = assess(fewerAnswers(findings, keep), { policy: governing }).decision;
        if (guess === 'sample' || guess === 'sample-elsewhere') expect(['sample', 'sample-elsewhere']).toContain(truth);
        if (guess === 'optional') expect(needle).toContain(truth);
        if (guess === 'no-sampling' || guess === 'follow-up') {
          if (findings.bleeding?.includes('bleeding-disorder') !== true)
            expect(['no-sampling', 'follow-up']).toContain(truth);
        }
      }),
      { seed, numRuns: runs(600, 15_000) },
    );
  });

  it('the order of what is listed changes nothing', () => {
    const three = fc.tuple(fullNodule, fullNodule, fullNodule);
    fc.assert(
      fc.property(fullFindings, three, policy, (findings, [a, b, c], governing) => {
        const nodules = [a, b, c].map((nodule, place) => ({ ...nodule, id: `n${place}` }));
        const forth = assess({ ...findings, nodules }, { policy: governing });
        const turned: Findings = {
          ...findings,
          dangerSigns: [...(findings.dangerSigns ?? [])].reverse(),
          risks: [...(findings.risks ?? [])].reverse(),
          bleeding: [...(findings.bleeding ?? [])].reverse(),
          nodules: [...nodules].reverse().map((nodule) => ({ ...nodule, foci: [...(nodule.foci ?? [])].reverse() })),
        };
        const back = assess(turned, { policy: governing });
        expect({ ...back, nodules: [...back.nodules].reverse() }).toEqual(forth);
      }),
      { seed, numRuns: runs(250, 5_000) },
    );
  });

  it('an urgent sign outweighs every score, and only words of the closed lists are spoken', () => {
    fc.assert(
      fc.property(fullFindings, policy, (findings, governing) => {
        const assessed = assess(findings, { policy: governing });
        const signs = findings.dangerSigns ?? [];
        if (signs.includes('stridor')) expect(assessed.decision).toBe('emergency-now');
        else if (signs.length > 0) expect(assessed.decision).toBe('refer-urgent');
        expect(assessed.sampleToo === null).toBe(assessed.decision !== 'refer-urgent');
        expect(reasons).toEqual(expect.arrayContaining([...assessed.because]));
        expect(cautions).toEqual(expect.arrayContaining([...assessed.cautions]));
        expect(assessed.because.length).toBeGreaterThan(0);
      }),
      { seed, numRuns: runs(500, 10_000) },
    );
  });
});
