import { expect, it } from 'vitest';
import { answer, leftLump, madeUp, opened } from './made-up.ts';
import { unknownNotAbsent } from './unknown-not-absent.ts';

const check = { kind: 'said', text: 'CHECK AK: 1 signs none 2 risks none' } as const;
const asked = [answer('dangerSigns', []), answer('risks', [])];

it('signs that nobody asked, and a bleeding disorder that was said, told as none are breaches', () => {
  const unasked = madeUp([opened, answer('risks', []), answer('bleeding', []), check]);
  expect(unknownNotAbsent.broken(unasked)).toEqual([`dangerSigns told as none: "${check.text}"`]);
  const quick = { kind: 'sent', ids: ['bleeding-disorder'] } as const;
  const denied = madeUp([quick, opened, ...asked, answer('bleeding', []), check]);
  expect(unknownNotAbsent.broken(denied)).toEqual([`bleeding told as none: "${check.text}"`]);
});

it('looks that a weak probe cannot show, told to the doctor as none, are a breach', () => {
  const looks = [answer('composition', 'mixed', 'n1'), answer('foci', ['unknown'], 'n1')];
  const text = 'Q47 DECIDE AK; L 22x15x14 part fluid part solid none';
  const walked = madeUp([opened, ...leftLump, ...looks, { kind: 'said', to: 'd', role: 'doctor', text }]);
  expect(unknownNotAbsent.broken(walked)).toHaveLength(1);
});

it('what was asked and denied may be told as none', () => {
  expect(unknownNotAbsent.broken(madeUp([opened, ...asked, answer('bleeding', []), check]))).toEqual([]);
});
