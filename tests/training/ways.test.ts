import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { loadTraining } from '../../src/content/scenarios.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { soak } from '../support/runs.ts';
import { shipped } from '../support/shipped.ts';
import { openStage } from './stage.ts';

const folder = mkdtempSync(join(tmpdir(), 'neckline-own-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Other names, three slides a patient, a question more about the patient, another system of categories, no ultrasound at the needle. */
const own = loadContent(
  undefined,
  ownProgramme(folder, {
    'id: tamboro': 'id: bakota',
    'hospital: Tamboro Hospital #': 'hospital: Bakota Hospital #',
    'ORUMA CLINIC': 'BAKO CLINIC',
    'name: Lab Velin': 'name: Lab Senn',
    'asksPet: false': 'asksPet: true',
    'guidance: true': 'guidance: false',
    'slides: 4': 'slides: 3',
    'system: Thy\n': 'system: Bethesda\n',
  }),
);
const ids = loadTraining(shipped).scenarios.map(({ id }) => id);

describe('the right way of each scenario, played to its end on the real line', () => {
  it('there are ten of them, in the order of their list', () => {
    expect(ids).toEqual([
      'straight',
      'blood',
      'faint',
      'no-alcohol',
      'alone',
      'fluid',
      'silent-doctor',
      'thy5',
      'corrected',
      'wrong-glass',
    ]);
  });

  const tongues = shipped.texts.languages.map(({ tag }) => tag).filter((tag) => tag !== 'en');
  // Two of them in each language on a push, others in the next one.
  const ofTongue = (place: number) => (soak ? ids : [ids[place]!, ids[place + tongues.length]!]);
  it.each(tongues.flatMap((tag, place) => ofTongue(place).map((id) => ({ tag, id }))))(
    '$id in $tag: all right, nothing late, nothing missed',
    async ({ id, tag }) => {
      const stage = await openStage(shipped, id, tag);
      try {
        const { lines, late, missed } = await stage.play();
        const odd = lines.filter(({ verdict }) => verdict !== 'right');
        expect({ odd, late, missed }).toEqual({ odd: [], late: 0, missed: 0 });
      } finally {
        await stage.close();
      }
    },
  );

  describe.each([
    ['the shipped programme', shipped],
    ['a programme of one’s own', own],
  ])('with %s', (_which, content) => {
    it.each(ids)('%s: all right, nothing late, nothing missed', async (id) => {
      const stage = await openStage(content, id);
      try {
        const report = await stage.play();
        const odd = report.lines.filter(({ verdict }) => verdict !== 'right');
        expect({ odd, late: report.late, missed: report.missed }).toEqual({ odd: [], late: 0, missed: 0 });
        expect(report.right).toBe(stage.rehearsal.progress.of);
      } finally {
        await stage.close();
      }
    });
  });
});
