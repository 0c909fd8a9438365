import { beforeAll, describe, expect, it } from 'vitest';
import { assess } from '../../src/clinical/indication.ts';
import { openQuestions } from '../../src/clinical/open-questions.ts';
import { adult } from '../published/look.ts';
import { rows } from '../published/nodule-rows.ts';
import { type Asked, questionsPerNodule } from '../support/questions-per-nodule.ts';

let asked: readonly Asked[] = [];
const of = (nodule: string, mm: number) => asked.find((one) => one.nodule === nodule && one.mm === mm);

beforeAll(async () => {
  asked = await questionsPerNodule();
  console.table(asked.map(({ fields: _fields, ...rest }) => rest));
});

describe('fewest questions about a nodule once its size is known', () => {
  it('are counted for every nodule of the comparison, and are five at most', () => {
    expect(asked.map(({ nodule, mm }) => [nodule, mm])).toEqual(rows.map(([nodule, mm]) => [nodule, mm]));
    expect(Math.max(...asked.map((one) => one.questions))).toBeLessThanOrEqual(5);
  });

  it('solid and 25 mm: with composition and size every policy wants the needle, and nothing is left to ask', () => {
    const told = adult({ id: 'n1', mm: [25], composition: 'solid' });
    expect(assess(told)).toMatchObject({ decision: 'sample', missing: [] });
    const shown = ['acr-2017', 'eu-2017', 'ata-2015'] as const;
    expect(openQuestions(told, { governing: 'common-practice', shown })).toEqual([]);
    expect(openQuestions(adult({ id: 'n1', mm: [25] }), { governing: 'common-practice', shown })[0]).toEqual({
      item: 'n1',
      field: 'composition',
    });
  });

  it('a nodule to be sampled is described once more, so that the result can be held against its look', () => {
    const sampled = asked.filter((one) => one.decision === 'needle ADVISED');
    expect(sampled.length).toBeGreaterThan(10);
    for (const { nodule, mm, fields } of sampled) {
      expect(fields, `${nodule}, ${mm} mm`).toEqual(['composition', 'features', 'foci']);
    }
    expect(of('solid iso wide smooth no-foci', 25)).toMatchObject({ decision: 'needle ADVISED', questions: 3 });
  });

  it.each([
    ['cyst', 40],
    ['solid iso wide smooth no-foci', 8],
    ['solid hypo wide lobed tiny', 9],
    ['solid hypo tall lobed tiny', 4],
  ])('%s, %d mm: no needle whatever it looks like, so one question is enough', (nodule, mm) => {
    expect(of(nodule, mm)?.fields).toEqual(['composition']);
    expect(of(nodule, mm)?.decision).toMatch(/^NO NEEDLE/);
  });
});
