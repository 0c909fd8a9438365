import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { summaryText } from '../../../src/conversation/matters/summary.ts';
import { person, SmallLine } from '../../support/world.ts';
import { coded, decidedCase, momentOf, said } from './moment-of.ts';

const opened = decidedCase()[0]!;

/** What a doctor reads first. */
function summary(events: readonly CaseEvent[], item: string | null = null): string {
  return summaryText(momentOf(events, { item }));
}

describe('the case on one screen', () => {
  it('is nothing without a case', () => {
    expect(summaryText({ ...momentOf([opened]), case: null })).toBe('');
  });

  it.each([
    ['somebody new', [said('patient.sex', 'female'), said('patient.birthYear', 1982)], 'AK F 1982'],
    ['an age without a year', [said('patient.ageYears', 43)], 'AK 43y'],
    ['signs', [said('dangerSigns', ['stridor', 'rapid-growth'])], 'AK; noisy breathing, grew in weeks'],
    ['no signs, which is not said', [said('dangerSigns', [])], 'AK'],
    ['a blood thinner with its value', [said('bleeding', ['warfarin']), said('inr', 2.8)], 'AK; warfarin INR 2.8'],
    ['a risk that nobody knows, which is not said', [said('risks', ['unknown'])], 'AK'],
    ['TSH not known', [said('tsh', 'unknown')], 'AK; TSH not known'],
  ] as const)('says %s', (_, answers, text) => {
    expect(summary([opened, ...answers])).toBe(text);
  });

  it.each([
    ['nothing, looked for in both ways', { features: ['none'], foci: ['none'] }, 'solid no suspicious look'],
    ['tiny dots in a lump that looks like none', { features: ['none'], foci: ['punctate'] }, 'solid tiny white dots'],
    ['no look, and nobody asked for bright spots', { features: ['none'] }, 'solid rest not known'],
    [
      'through a weak probe that shows the worst at most',
      { features: ['none'], foci: ['punctate', 'unknown'], margin: 'unknown', 'ultrasound.probe': 'other' },
      'solid tiny white dots, rest not known',
    ],
  ] as const)('says of a lump what was seen: %s', (_, answers, text) => {
    const all = Object.entries(answers).map(([field, value]) =>
      said(field, value, field.startsWith('ultrasound') ? null : 'n1'),
    );
    const looked = said('nodules', ['n1']);
    const probe = 'ultrasound.probe' in answers ? [] : [said('ultrasound.probe', 'linear')];
    expect(summary([...decidedCase(['n1']), looked, ...probe, ...all]).split('; ')).toContain(`R 22x15x14 ${text}`);
  });

  it('names every nodule until one has been sampled, then that one and its code', () => {
    const sides = said('nodules', ['n1', 'n2']);
    const two = [...decidedCase(['n1', 'n2']), sides];
    expect(summary(two)).toContain('R 22x15x14 solid; L 22x15x14 solid');
    const sampled = [...two, ...coded('s1', 'n1'), ...coded('s2', 'n2')];
    expect(summary(sampled, 's2')).toMatch(/^AK 1982 4829 1354; L 22x15x14 solid/);
    expect(summary(sampled, 's2')).not.toContain('R 22x15x14');
  });

  it('gives what every policy says, the governing one first', () => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
    line.text(
      'w',
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
    );
    line.text('w', 'OK');
    line.text('w', 'DOCTOR may I');
    line.settle();
    expect(
      line
        .heard('d')
        .join('\n')
        .replace(/\d\d(?= AK| ASKS| and| 1:)/g, '47'),
    ).toBe(
      [
        'Q47 ASKS AK F 1982, ORUMA CLINIC: "may I". Seen: felt R; R 22x15x14 solid dark, jagged edge, tiny white dots, rest not known; TSH normal.',
        'Q47 AK: Plain rule sample, ACR TR5 sample, EU 5 sample, ATA high sample.',
        'Q47 AK: answer with 47 and your words. Or send 47 1: the clinic phones me.',
      ].join('\n'),
    );
  });

  it.each([
    [
      'R 22x15x14 solid hypo irregular micro L 30x20x20 cystic felt right',
      'R 22x15x14: Plain rule sample, ACR TR5 sample, EU 5 sample, ATA high sample.',
    ],
    [
      'L 30x20x20 cystic R 22x15x14 solid hypo irregular micro L 28x22x20 solid hypo irregular micro felt right',
      'R 22x15x14: Plain rule sample, ACR TR5 sample, EU 5 sample, ATA high sample; L 28x22x20: Plain rule sample, ACR TR5 sample, EU 5 sample, ATA high sample.',
    ],
    [
      'R 7x5x4 cystic L 8x6x5 cystic felt right',
      'R 7x5x4: Plain rule no needle, ACR TR1 no needle, EU 2 no needle, ATA benign no needle; L 8x6x5: Plain rule no needle, ACR TR1 no needle, EU 2 no needle, ATA benign no needle.',
    ],
  ])('names the lump that the policies are of where there are several: %s', (lumps, policies) => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
    line.text('w', `NEW AK 1982 F ${lumps} TSH normal linear signs 0 risks 0 bleeding 0`);
    line.text('w', 'OK');
    line.text('w', 'DOCTOR may I');
    line.settle();
    const read = line
      .heard('d')
      .join('\n')
      .replace(/\.\nQ\d\d AK: (?=R|L)/gu, '; ');
    expect(read).toContain(policies);
  });
});
