import { describe, expect, it } from 'vitest';
import { person, SmallLine } from '../../support/world.ts';

const lanes = (says: readonly { readonly lane: string }[]): readonly string[] => [
  ...new Set(says.map((one) => one.lane)),
];

describe('a text of an alarm', () => {
  it('goes in the lane of first aid, to the worker and to the doctor', () => {
    const line = new SmallLine(person('w', 'worker'), person('d', 'doctor'));
    expect(lanes(line.text('w', 'SOS').says)).toEqual(['sos']);
    const asked = line.dues.find((one) => one.what.kind === 'ask-doctor');
    expect(lanes(line.due('d', asked!.what).says)).toEqual(['sos']);
    expect(lanes(line.text('w', '2').says)).toEqual(['sos']);
    expect(lanes(line.text('w', 'SOS').says)).toEqual(['sos']);
  });
});
