import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { codeIssued, filed, madeUp, opened } from './made-up.ts';
import { resultTold } from './result-told.ts';

const told: CaseEvent = { type: 'told', specimen: 's1', outcome: 'agrees' };
const ended = (end: 'attended' | 'not-usable'): CaseEvent => ({ type: 'specimen-closed', specimen: 's1', end });

it('a patient who was told of the first result and not of the amended one is a breach', () => {
  const walked = madeUp([opened, codeIssued(), filed('Thy2'), told, filed('Thy5'), ended('attended')]);
  expect(resultTold.broken(walked)).toEqual(['s1 ends as attended, and the patient was not told of its last result']);
});

it('one who was told since is none, nor one whose glass was of no use', () => {
  const begun = [opened, codeIssued(), filed('Thy2'), told, filed('Thy5')];
  expect(resultTold.broken(madeUp([...begun, told, ended('attended')]))).toEqual([]);
  expect(resultTold.broken(madeUp([...begun, ended('not-usable')]))).toEqual([]);
});
