import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readingsBySize } from '../../src/clinical/by-size.ts';
import { readPolicy } from '../../src/clinical/completions.ts';
import { type Findings, findingsChoices, type Nodule } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { type PolicyId, policyIds } from '../../src/clinical/policies/policy.ts';
import { decisions } from '../../src/clinical/reasons.ts';
import { whatWouldChange } from '../../src/clinical/what-would-change.ts';
import { type DecisionPicture, decisionPicture } from '../../src/drawings/decision-picture.ts';
import { adult, look } from '../published/look.ts';
import { rows } from '../published/nodule-rows.ts';
import { overflowing, words } from './drawn.ts';

const pictureOf = (findings: Findings, policy: PolicyId = 'common-practice'): DecisionPicture =>
  decisionPicture(findings, assess(findings, { policy }), { policy, inrHours: 24 }, words);

const said = { sample: 'needle', optional: 'a needle may be done', 'follow-up': 'watch', 'no-sampling': 'no needle' };

describe('the four rules side by side', () => {
  it.each(rows)('%s, %d mm, as worked out by hand: %s / %s / %s / %s', (row, mm, ...expected) => {
    const [plain, acr, eu, ata, points, category, pattern] = expected;
    const [lump] = pictureOf(adult(look(row, mm))).nodules;
    expect(lump!.rows.map(({ decision }) => decision)).toEqual([plain, acr, eu, ata]);
    expect(lump!.rows.map(({ governs }) => governs)).toEqual([true, false, false, false]);
    expect(lump!.rows[1]!.points).toBe(`${points} ${points === 1 ? 'point' : 'points'}`);
    expect(lump!.rows[2]!.level).toBe(category === null ? '' : `category ${category}`);
    expect(lump!.rows[3]!.level).toBe(pattern);
    for (const { decision, says } of lump!.rows) {
      if (decision !== 'undetermined') expect(says).toBe(said[decision]);
    }
    expect(overflowing(lump!.lanes)).toEqual([]);
    expect(Buffer.byteLength(lump!.lanes)).toBeLessThan(12_000);
  });

  it.each([
    ['solid hypo wide lobed tiny', ['over 10 mm', '10 mm or more', 'over 10 mm', '10 mm or more']],
    ['solid iso wide smooth no-foci', ['over 10 mm', '25 mm or more', 'over 20 mm', '15 mm or more']],
    ['solid hypo wide smooth no-foci', ['over 10 mm', '15 mm or more', 'over 15 mm', '10 mm or more']],
    ['cyst', ['at no size', 'at no size', 'at no size', 'at no size']],
    [
      'sponge iso wide smooth no-foci',
      ['at no size', 'at no size', 'at no size', 'a needle may be done: 20 mm or more'],
    ],
    [
      'mixed centred iso wide smooth no-foci',
      ['over 15 mm of the solid part', 'at no size', 'over 20 mm', 'a needle may be done: 20 mm or more'],
    ],
    [
      'mixed eccentric hypo wide smooth tiny',
      ['over 10 mm of the solid part', '15 mm or more', 'over 10 mm', '10 mm or more'],
    ],
  ])('%s: needle %j, with "over" and "or more" as the tables have them', (row, thresholds) => {
    expect(pictureOf(adult(look(row, 12))).nodules[0]!.rows.map(({ threshold }) => threshold)).toEqual(thresholds);
  });

  it('a look that is not wholly known has every outcome that is still open', () => {
    const [lump] = pictureOf(adult(look('solid wide smooth no-foci', 12))).nodules;
    expect(lump!.rows.map(({ says }) => says)).toEqual([
      'needle',
      'no needle or watch',
      'watch or needle',
      'watch or needle',
    ]);
    expect(lump!.rows[1]).toMatchObject({
      level: 'TR3 or TR4',
      points: '3 to 5 points',
      threshold: '15 mm or more or only 25 mm or more, by what is not known',
    });
  });

  it('a policy read at any size says what its stretch of the ruler says', () => {
    const nodules = rows.map(([row]) => knownNodule(look(row, 10), 0));
    fc.assert(
      fc.property(
        fc.constantFrom(...nodules),
        fc.constantFrom(...policyIds),
        fc.integer({ min: 1, max: 400 }),
        (nodule, id, tenths) => {
          const mm = tenths / 10;
          const { of, stretches } = readingsBySize(id, nodule);
          const here = stretches.findLast(({ fromMm, fromIncluded }) => (fromIncluded ? mm >= fromMm : mm > fromMm));
          const changed = of === 'mm' ? { ...nodule, size: { least: mm, most: mm } } : { ...nodule, solidPartMm: mm };
          expect(here?.decision).toBe(readPolicy(id, changed).decision);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('what would change it', () => {
  const lines = (findings: Findings, policy?: PolicyId) =>
    Object.fromEntries(
      pictureOf(findings, policy).changes.map(({ to, asked, otherwise }) => [to, { asked, otherwise }]),
    );

  it('a solid lump of 22 mm: smaller, all fluid, a danger sign, a child', () => {
    const all = lines(adult(look('solid iso wide smooth no-foci', 22)));
    expect(all['No needle now, ultrasound again later']!.otherwise).toEqual(['Size: 10 mm or less']);
    expect(all['NO needle']!.otherwise).toEqual(['Inside: all fluid', 'Inside: like a sponge']);
    expect(all['EMERGENCY, hospital now']!.otherwise).toEqual(['noisy breathing']);
    expect(all['REFER URGENTLY, a needle meanwhile']!.otherwise).toContain('hoarse voice');
    expect(all['REFER FIRST, no needle here']!.otherwise).toContain('under 18 years old');
  });

  it('under another rule it is another list, of the sizes of that rule', () => {
    const all = lines(adult(look('solid iso wide smooth no-foci', 22)), 'acr-2017');
    expect(all['Needle ADVISED']!.otherwise).toEqual(
      expect.arrayContaining([
        'Size: 25 mm or more',
        'Grey: darker than the thyroid',
        'Shape: taller than wide',
        'Bright spots: tiny white dots',
      ]),
    );
  });

  it('exactly 10 mm, where the rules part, is said as exactly', () => {
    const all = lines(adult(look('solid hypo wide lobed tiny', 22)));
    expect(all['The DOCTOR decides']!.otherwise).toContain('Size: exactly 10 mm');
    expect(all['No needle now, ultrasound again later']!.otherwise).toEqual(['Size: under 10 mm']);
  });

  it('what nobody has asked stands apart from what would have to be otherwise', () => {
    const all = lines(adult({ id: 'n1', mm: [20] }));
    expect(all['Needle ADVISED']).toEqual({ asked: ['Inside: solid'], otherwise: [] });
  });

  it('every change of a lump is what assess says of the lump changed so, and none leads back to the same', () => {
    for (const [row, mm] of rows) {
      const findings = adult(look(row, mm));
      const now = assess(findings);
      for (const change of whatWouldChange(findings)) {
        const { item, field, value, present, against, to } = change;
        expect([to.decision, to.sampleToo]).not.toEqual([now.decision, now.sampleToo]);
        if (item === null || field === 'foci' || field === 'mm' || field === 'solidPartMm') continue;
        expect([present, against]).toEqual([true, null]);
        const nodule = { ...findings.nodules![0]!, [field]: value } as Nodule;
        expect(assess({ ...findings, nodules: [nodule] })).toMatchObject(to);
      }
    }
  });

  it('of several lumps each is named with its side, and with its size where a side has two', () => {
    const two = adult({ id: 'a', site: 'right', mm: [22], composition: 'solid' }, {});
    two.nodules!.push({ id: 'b', site: 'left', mm: [8], composition: 'solid' });
    const picture = pictureOf(two);
    expect(picture.nodules.map(({ title, proposed }) => [title, proposed])).toEqual([
      ['Right lump, 22 mm', true],
      ['Left lump, 8 mm', false],
    ]);
    expect(picture.changes.flatMap(({ otherwise }) => otherwise).filter((one) => one.includes('Size'))).toEqual(
      expect.arrayContaining([expect.stringMatching(/^(Right|Left) lump, Size: /u)]),
    );
  });
});

describe('words of the picture', () => {
  it('none is missing, whatever is changed', () => {
    const bare: Findings = { nodules: [{}] };
    const child = adult(look('mostly-sponge iso wide smooth no-foci', 25), {
      patient: { ageYears: 9 },
      tsh: 'low',
      dangerSigns: ['hard'],
    });
    const all = [bare, {}, child, adult(look('mixed centred hypo wide smooth tiny coarse rim extruded comet', 30))];
    const drawn = all.flatMap((findings) => policyIds.map((policy) => JSON.stringify(pictureOf(findings, policy))));
    for (const one of drawn) expect(one).not.toMatch(/(?:picture|because|policy|level)-[a-z]/u);
  });

  it('there is one for each decision and each answer', () => {
    const fields = ['composition', 'echogenicity', 'shape', 'margin', 'capsule'] as const;
    const keys = [
      ...decisions.map((one) => `picture-decision-${one}`),
      ...fields.flatMap((field) => findingsChoices[field].map((one) => `picture-${field}-${one}`)),
      ...findingsChoices.foci.map((one) => `picture-focus-${one}`),
      ...findingsChoices.dangerSigns.map((one) => `picture-if-danger-signs-${one}`),
      ...(['lump', 'risks', 'bleeding', 'tsh', 'scan'] as const).flatMap((field) =>
        findingsChoices[field].map((one) => `picture-if-${field}-${one}`),
      ),
    ];
    expect(keys.filter((key) => words[key] === undefined)).toEqual([]);
  });
});
