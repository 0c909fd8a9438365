import { expect, it } from 'vitest';
import { answer, leftLump, madeUp, opened } from './made-up.ts';
import { unknownNotAbsent } from './unknown-not-absent.ts';

const check = {
  kind: 'said',
  text: 'CHECK AK F 1971. Nothing at: C2 voice, swallowing, growth; C5 bleeding.',
} as const;
const story = [answer('dangerSigns', []), answer('asked.story', [])];
const bleeding = [answer('bleeding', []), answer('asked.bleeding', [])];

it('a story that nobody asked, and a bleeding disorder that was said, told as nothing are breaches', () => {
  const unasked = madeUp([opened, answer('dangerSigns', ['unknown']), ...bleeding, check]);
  expect(unknownNotAbsent.broken(unasked)).toEqual([`story told as nothing: "${check.text}"`]);
  const quick = { kind: 'sent', ids: ['bleeding-disorder'] } as const;
  const denied = madeUp([quick, opened, ...story, ...bleeding, check]);
  expect(unknownNotAbsent.broken(denied)).toEqual([`bleeding told as nothing: "${check.text}"`]);
  const recorded = madeUp([opened, ...story, ...bleeding, answer('dangerSigns', ['swallowing']), check]);
  expect(unknownNotAbsent.broken(recorded)).toEqual([`story told as nothing: "${check.text}"`]);
});

it('looks that a weak probe cannot show, told as none, are a breach', () => {
  const text = 'Q47 DECIDE AK. Seen: L 22x15x14 solid no suspicious look.';
  const told = { kind: 'said', to: 'd', role: 'doctor', text } as const;
  const looks = [answer('features', ['none'], 'n1'), answer('foci', [], 'n1')];
  expect(unknownNotAbsent.broken(madeUp([opened, ...leftLump, ...looks, told]))).toEqual([]);
  const unseen = [answer('foci', ['unknown'], 'n1'), answer('margin', 'unknown', 'n1')];
  for (const one of unseen)
    expect(unknownNotAbsent.broken(madeUp([opened, ...leftLump, ...looks, one, told]))).toHaveLength(1);
});

it('an examination that was not done, told as no lump felt, and signs that nobody asked, are breaches', () => {
  const felt = { kind: 'said', text: 'Q47 DECIDE AK. Seen: no lump felt.' } as const;
  const signs = { kind: 'said', text: 'AK: C7 no signs of an overactive thyroid.' } as const;
  expect(unknownNotAbsent.broken(madeUp([opened, answer('examined', false), felt, signs]))).toHaveLength(2);
  const known = [answer('examined', true), answer('overactiveSigns', 'no')];
  expect(unknownNotAbsent.broken(madeUp([opened, ...known, felt, signs]))).toEqual([]);
});

it('what was asked and denied may be told as nothing', () => {
  expect(unknownNotAbsent.broken(madeUp([opened, ...story, ...bleeding, check]))).toEqual([]);
});
