import { describe, expect, it } from 'vitest';
import { person, SmallLine } from '../support/world.ts';

/** A line that has just told a worker when to send SOS; gives that text of ours. */
function told(): { readonly line: SmallLine; readonly ours: string } {
  const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
  line.text('w', 'NEW');
  line.text('w', '?');
  const ours = line.heard('w').find((one) => /\bSOS\b/.test(one));
  if (ours === undefined) throw new Error('no text of ours says SOS');
  return { line, ours };
}

describe('a text of ours that a machine sends back, word for word', () => {
  it('is no alarm, though it says SOS', () => {
    const { line, ours } = told();
    line.text('w', ours);
    line.settle();
    expect(line.heard('w').join()).not.toContain('FAINT: lay the patient');
    expect(line.heard('d')).toEqual([]);
  });

  it('is an alarm again as soon as the words are another', () => {
    const { line, ours } = told();
    line.text('w', `she is bad, ${ours}`);
    line.settle();
    expect(line.heard('w').join()).toContain('FAINT: lay the patient');
    expect(line.heard('d').join()).toContain('SOS');
  });
});
