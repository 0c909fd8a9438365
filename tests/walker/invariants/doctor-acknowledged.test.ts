import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { doctorAcknowledged } from './doctor-acknowledged.ts';
import { codeIssued, filed, madeUp, opened } from './made-up.ts';

const ended: CaseEvent = { type: 'specimen-closed', specimen: 's1', end: 'repeat-booked' };
const answered: CaseEvent = { type: 'acknowledged', specimen: 's1', answer: 'repeat' };

it('an unreadable sample that ends with a booked needle, and no doctor has seen it, is a breach', () => {
  expect(doctorAcknowledged.broken(madeUp([opened, codeIssued(), filed('Thy1'), ended]))).toEqual([
    'Thy1 ends as repeat-booked, and no doctor has answered',
  ]);
});

it('one that a doctor answered is none, nor a benign one', () => {
  expect(doctorAcknowledged.broken(madeUp([opened, codeIssued(), filed('Thy1'), answered, ended]))).toEqual([]);
  expect(doctorAcknowledged.broken(madeUp([opened, codeIssued(), filed('Thy2'), ended]))).toEqual([]);
});

it('what a doctor answered of a result is no answer to the one that took its place', () => {
  const amended = madeUp([opened, codeIssued(), filed('Thy1'), answered, filed('Thy4'), ended]);
  expect(doctorAcknowledged.broken(amended)).toEqual(['Thy4 ends as repeat-booked, and no doctor has answered']);
});

it('one that a doctor closes with a word of their own is none', () => {
  const byDoctor: CaseEvent = { type: 'doctor-answered', question: 'q', answer: 'close', words: '' };
  const atOnce = -1 / 60;
  const walked = madeUp([opened, codeIssued(), filed('Thy1'), byDoctor, atOnce, ended]);
  expect(doctorAcknowledged.broken(walked)).toEqual([]);
});

it('one that a doctor called done is none; one called done before the result came is a breach', () => {
  const done: CaseEvent = { type: 'doctor-answered', question: 'q', answer: 'done', words: '' };
  const inOrder = (...events: readonly CaseEvent[]) => madeUp([opened, codeIssued(), ...events]);
  expect(doctorAcknowledged.broken(inOrder(filed('Thy1'), done, ended))).toEqual([]);
  expect(doctorAcknowledged.broken(inOrder(done, filed('Thy1'), ended))).toHaveLength(1);
});

it('one whose glass the laboratory calls useless after all is none: that result does not count', () => {
  const rejected: CaseEvent = { type: 'rejected', specimen: 's1', reason: 'broken' };
  const unusable: CaseEvent = { type: 'specimen-closed', specimen: 's1', end: 'not-usable' };
  expect(doctorAcknowledged.broken(madeUp([opened, codeIssued(), filed('Thy1c'), rejected, unusable]))).toEqual([]);
});
