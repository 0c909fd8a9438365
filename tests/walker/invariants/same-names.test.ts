import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { asks, codeIssued, leftLump, madeUp, opened } from './made-up.ts';
import { sameNames } from './same-names.ts';

const begun = [opened, ...leftLump, codeIssued()];
const label = (text: string) =>
  ({ kind: 'said', step: 'labelling.label', flow: 'labelling', code: '48291354', text }) as const;
const readBack = (text: string) =>
  ({ kind: 'said', flow: 'read-back', step: 'read-back', role: 'lab', code: '48291354', text }) as const;
const doctor = (text: string) =>
  ({ kind: 'said', role: 'doctor', step: 'thy4', ask: asks('thy4', ['refer'], 's1'), code: '48291354', text }) as const;

it('a label that names the other side, a pencil line without size and a request with another code are breaches', () => {
  expect(sameNames.broken(madeUp([...begun, label('4829 1354 THYROID RIGHT 22x15x14 MM')]))).toHaveLength(2);
  const pencil = { kind: 'said', flow: 'ready', ask: asks('slide-code', [], 's1'), text: '4829 1354, L, 1/4' } as const;
  expect(sameNames.broken(madeUp([...begun, pencil])).join()).toContain('pencil without its size');
  const text = '1111 2222. LEFT thyroid lump, 22x15x14 mm';
  const request = { kind: 'said', step: 'posting.request', code: '48291354', text } as const;
  expect(sameNames.broken(madeUp([...begun, request]))[0]).toContain('request without its code');
});

it('a read-back that names the other side is a breach, whatever it asks to be right', () => {
  const other = '4829 1354: AK F, R 22x15x14 mm. 4829 1354 R: is Thy4 right? Look at the slide.';
  expect(sameNames.broken(madeUp([...begun, readBack(other)])).map((one) => one.split(':')[0])).toEqual([
    'read-back without its side (left)',
    'read-back with another side (right)',
  ]);
  const both = '4829 1354: AK F, L 22x15x14 mm. 4829 1354 R: is Thy4 right? Look at the slide.';
  expect(sameNames.broken(madeUp([...begun, readBack(both)]))[0]).toContain('with another side (right)');
});

it('a middle lump is not named by a man', () => {
  const target = { kind: 'nodule', nodule: 'n1', side: 'isthmus', mm: [22, 15, 14], place: null };
  const middle = { ...codeIssued(), target } as CaseEvent;
  const man = '4829 1354: AK M, 22x15x14 mm. 4829 1354: is Thy4 right?';
  expect(sameNames.broken(madeUp([opened, middle, readBack(man)]))[0]).toContain('without its side (isthmus)');
});

it("a doctor's result of the other lump, or of none, is a breach", () => {
  const other = 'Q18 TODAY AK F 1982 4829 1354, ORUMA CLINIC: Thy4. Seen: R 30x20x20 solid.';
  expect(sameNames.broken(madeUp([...begun, doctor(other)])).join()).toContain("doctor's result with another side");
  const none = 'Q18 TODAY AK F 1982 4829 1354, ORUMA CLINIC: Thy4. Seen: felt L.';
  expect(sameNames.broken(madeUp([...begun, doctor(none)])).join()).toContain("doctor's result without its size");
});

it('texts that name the specimen as it is recorded are none', () => {
  const texts = [
    label('4829 1354 THYROID LEFT\n22x15x14 MM'),
    readBack('READ BACK 4829 1354: AK M, L 22x15x14 mm. 4829 1354 L: is Thy4 right?'),
    doctor('Q18 TODAY AK F 1982 4829 1354, ORUMA CLINIC: Thy4. Seen: L 22x15x14 solid.'),
  ];
  for (const text of texts) expect(sameNames.broken(madeUp([...begun, text]))).toEqual([]);
});
