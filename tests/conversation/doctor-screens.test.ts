import { describe, expect, it } from 'vitest';
import { countSegments } from '../../src/text/segments.ts';
import { shipped } from '../support/shipped.ts';
import { person, SmallLine } from '../support/world.ts';

/** A worker's emergency on a small line, and what the doctor reads of it. */
function emergencyRead(worker = person('ada', 'worker')): readonly string[] {
  const line = new SmallLine(worker, person('tano', 'doctor'));
  line.text('ada', 'NEW AK 1982 F');
  line.text('ada', '1');
  line.settle();
  return line.heard('tano');
}

describe('what a doctor is asked', () => {
  it('begins an emergency with who, why, what was told, and a number that can be dialled', () => {
    const [first = '', ...others] = emergencyRead()
      .join('\n')
      .split(/\n(?=Q)/);
    expect(first).toMatch(/^Q\d\d EMERGENCY AK F 1982, ORUMA CLINIC\. Why: noisy breathing\. .*Tamboro Hospital NOW\./);
    expect(first).toContain('Phone of the clinic: ada +0005550139');
    expect(others.at(-1)).toMatch(/^Q\d\d AK: reply \d\d and: 1 I phone the clinic 2 yes, hospital now/);
  });

  it('names no number of a clinic that writes by Telegram, which cannot be dialled', () => {
    const worker = person('ada', 'worker', { addresses: [{ channel: 'telegram', address: '4711' }] });
    expect(emergencyRead(worker).join('\n')).not.toMatch(/Phone of the clinic|4711/);
  });

  it('comes in screens of one segment, each with the tag, however much was found', () => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
    line.text('w', 'NEW AK 1982 F R 22x15x14 solid hypo irregular micro L 18x12x11 solid hypo TSH low felt linear');
    for (const answer of ['60', '70', '80', '0', '567', 'OK']) line.text('w', answer);
    line.text('w', `DOCTOR ${'may she eat '.repeat(8)}`);
    line.settle();
    const screens = line.heard('d');
    expect(screens.length).toBeGreaterThan(1);
    for (const screen of screens) {
      expect(countSegments(screen).segments, screen).toBe(1);
      expect(screen).toMatch(/^Q\d\d ((URGENT|ASKS) )?AK/);
    }
  });

  it.each(
    [...shipped.flows.newest.values()]
      .flatMap((flow) => [...flow.states.values()])
      .flatMap(({ question, transitions }) => [question, ...[...transitions.values()].map((one) => one.question)])
      .filter((one) => one !== null)
      .map((one) => [one.about, one] as const),
  )('shows every choice of %s on its last screens, the tag said once', (_about, question) => {
    const text = shipped.texts.render('en', `doctor.${question.about}`, (name) => (name === 'q' ? '47' : `<${name}>`));
    const screens = text.split('\u001e').slice(1).join(' ');
    for (const { reply } of question.options) expect(screens).toMatch(new RegExp(`(?:^| )${reply} [a-zI<]`));
    expect(screens.match(/[Rr]eply 47 and: /g) ?? screens.match(/send 47 1: /g)).toHaveLength(1);
  });
});
