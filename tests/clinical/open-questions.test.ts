import { describe, expect, it } from 'vitest';
import type { Findings, Nodule } from '../../src/clinical/findings.ts';
import { assess } from '../../src/clinical/indication.ts';
import { type OpenQuestion, openQuestions } from '../../src/clinical/open-questions.ts';
import { type PolicyId, policyIds } from '../../src/clinical/policies/policy.ts';
import { adult, look } from '../published/look.ts';

const fieldsOf = (questions: readonly OpenQuestion[]) =>
  questions.map(({ item, field }) => (item === null ? field : `${item}.${field}`));
const governedBy = (governing: PolicyId, shown: readonly PolicyId[] = []) => ({ governing, shown });

describe('which questions are still worth asking', () => {
  it('everything about the patient comes first, in the order of the gates', () => {
    expect(fieldsOf(openQuestions({}, governedBy('common-practice')))).toEqual([
      'dangerSigns',
      'patient.ageYears',
      'risks',
      'examined',
      'ultrasound.done',
      'tsh',
      'overactiveSigns',
      'bleeding',
      'palpable',
    ]);
  });

  it('an emergency ends all questions', () => {
    expect(openQuestions({ dangerSigns: ['stridor'] }, governedBy('common-practice'))).toEqual([]);
  });

  it('for a child nothing is asked but the danger signs', () => {
    const child = { patient: { ageYears: 9 } };
    expect(fieldsOf(openQuestions(child, governedBy('common-practice')))).toEqual(['dangerSigns']);
  });

  it('an answer "cannot tell" is not asked again', () => {
    const untold = adult({ ...look('solid', 18), echogenicity: 'unknown', foci: ['unknown'] });
    const fields = fieldsOf(openQuestions(untold, governedBy('acr-2017')));
    expect(fields).not.toContain('n1.echogenicity');
    expect(fields).not.toContain('n1.foci');
    const asked = [{ item: 'n1', field: 'margin' as const }];
    expect(fieldsOf(openQuestions(untold, { governing: 'acr-2017', asked }))).not.toContain('n1.margin');
  });

  it.each<[string, Nodule, PolicyId, PolicyId[], string[]]>([
    ['solid 25 mm: two answers settle all four', look('solid', 25), 'common-practice', [...policyIds], []],
    ['solid 30 mm under the plain rule', look('solid', 30), 'common-practice', [], []],
    ['cyst: settled', look('cyst', 40), 'common-practice', [...policyIds], []],
    ['under 10 mm no system samples', look('solid', 8), 'acr-2017', ['common-practice', 'eu-2017', 'ata-2015'], []],
    [
      'solid 12 mm under ATA: darkness first',
      look('solid', 12),
      'ata-2015',
      [],
      ['n1.echogenicity', 'n1.foci', 'n1.margin', 'n1.shape', 'n1.capsule'],
    ],
    ['solid dark 12 mm under ATA: settled', look('solid hypo', 12), 'ata-2015', [], []],
    ['mixed under the plain rule: the solid part', look('mixed', 20), 'common-practice', [], ['n1.solidPartMm']],
    [
      'sponge 25 mm, EU shown: its extent',
      look('sponge-of-unknown-extent iso wide smooth no-foci', 25),
      'common-practice',
      ['eu-2017'],
      ['n1.spongiformWhole'],
    ],
  ])('%s', (_, nodule, governing, shown, expected) => {
    expect(fieldsOf(openQuestions(adult(nodule), governedBy(governing, shown)))).toEqual(expected);
  });

  it('drugs are asked only when a needle is possible, and the INR only on warfarin', () => {
    const { bleeding: _, ...unasked } = adult(look('cyst', 40));
    expect(openQuestions(unasked, governedBy('common-practice'))).toEqual([]);
    const { bleeding: __, ...solid } = adult(look('solid', 30));
    expect(fieldsOf(openQuestions(solid, governedBy('common-practice')))).toEqual(['bleeding']);
    expect(fieldsOf(openQuestions({ ...solid, bleeding: ['warfarin'] }, governedBy('common-practice')))).toEqual([
      'inr',
    ]);
  });
});

describe('a dialogue that asks only what is open', () => {
  const nodules = [
    ['cyst', 40],
    ['sponge iso wide smooth no-foci', 25],
    ['mostly-sponge iso wide smooth no-foci', 25],
    ['mixed centred iso wide smooth no-foci', 30],
    ['mixed eccentric iso wide smooth no-foci', 18],
    ['mixed eccentric hypo wide smooth tiny', 12],
    ['solid iso wide smooth no-foci', 8],
    ['solid iso wide smooth no-foci', 11],
    ['solid iso wide smooth no-foci', 15],
    ['solid iso wide smooth no-foci', 20],
    ['solid iso wide smooth no-foci', 24],
    ['solid iso wide smooth no-foci', 25],
    ['solid hypo wide smooth no-foci', 10],
    ['solid hypo wide smooth no-foci', 12],
    ['solid hypo wide smooth no-foci', 15],
    ['solid hypo wide smooth no-foci', 16],
    ['solid vhypo wide smooth no-foci', 12],
    ['solid iso wide smooth tiny', 14],
    ['solid hypo wide lobed tiny', 9],
    ['solid hypo wide lobed tiny', 11],
    ['solid hypo wide smooth tiny', 10],
    ['solid iso tall smooth no-foci', 12],
    ['solid hypo wide breaks no-foci', 11],
    ['hidden iso wide smooth rim', 18],
    ['solid iso wide smooth coarse', 16],
    ['solid hypo tall lobed tiny', 4],
    ['mixed centred hypo wide smooth no-foci', 22],
  ] as const;

  function talk(full: Nodule, governing: PolicyId): { asked: string[]; told: Findings } {
    const told: Nodule = { id: 'n1', mm: full.mm };
    const asked: string[] = [];
    for (;;) {
      const [next] = openQuestions(adult(told), governedBy(governing));
      if (next === undefined) return { asked, told: adult(told) };
      asked.push(next.field);
      expect(asked.length, asked.join(' ')).toBeLessThan(12);
      const answer = full[next.field as keyof Nodule];
      Object.assign(told, { [next.field]: answer ?? 'unknown' });
    }
  }

  const counts = new Map<PolicyId, number[]>();
  it.each(nodules.flatMap(([row, mm]) => policyIds.map((id) => [row, mm, id] as const)))(
    '%s, %d mm, %s: comes to what the whole truth comes to',
    (row, mm, governing) => {
      const full = { ...look(row, mm), solidPartMm: mm / 2 };
      const { asked, told } = talk(full, governing);
      counts.set(governing, [...(counts.get(governing) ?? []), asked.length]);
      const needleOf = (findings: Findings) =>
        assess(findings, { policy: governing }).decision.replace('no-sampling', 'follow-up');
      expect(needleOf(told)).toBe(needleOf(adult(full)));
    },
  );

  it('asks few questions of a nodule once its size is known', () => {
    const table = [...counts].map(([id, each]) => ({
      policy: id,
      most: Math.max(...each),
      mean: each.reduce((a, b) => a + b, 0) / each.length,
    }));
    console.table(table.map((line) => ({ ...line, mean: line.mean.toFixed(2) })));
    const most = Object.fromEntries(table.map(({ policy, most }) => [policy, most]));
    expect(most['common-practice']).toBeLessThanOrEqual(6);
    expect(Math.max(...Object.values(most))).toBeLessThanOrEqual(9);
  });
});
