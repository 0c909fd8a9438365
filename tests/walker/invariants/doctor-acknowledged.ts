import { currentResult } from '../../../src/case/case.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

/** Results that a doctor has to have seen: all that is unreadable, uncertain, suspicious or malignant. */
const doctors = /^(Thy1c?|Thy3[af]|Thy4|Thy5|L[1345])$/;

const isSettled: ReadonlySet<string> = new Set(['done', 'close']);

/** No specimen ends with a result that only a doctor may settle, before a doctor has answered it. */
export const doctorAcknowledged: Invariant = {
  name: 'no result that is the doctor’s ends before a doctor has answered it',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ record: { event, at }, after }, index, all) => {
      if (event.type !== 'specimen-closed' || after.practice) return [];
      const of = after.specimens.find(({ id }) => id === event.specimen);
      const filed = of ? currentResult(of) : null;
      const category = filed?.result.canonical ?? '';
      if (!of || !doctors.test(category)) return [];
      // The laboratory took the result back with its glass, and every doctor was told so.
      if (of.rejected !== null) return [];
      // A doctor who lets a patient go that refuses reads the result in the same text.
      if (all.some(({ record }) => record.at === at && record.event.type === 'doctor-answered')) return [];
      // Who says that it is done, where the clinic has told the patient or was phoned, has read it too; so has who ends the case.
      const filedAt = all
        .slice(0, index)
        .findLastIndex(({ record: { event: one } }) => one.type === 'result-filed' && one.specimen === of.id);
      // What was answered of an earlier result is no answer to the one that took its place.
      const isDone = all.slice(filedAt, index).some(({ record: { event: said } }) => {
        if (said.type === 'acknowledged') return said.specimen === of.id;
        return said.type === 'doctor-answered' && isSettled.has(said.answer);
      });
      if (isDone) return [];
      // Every doctor who was asked hears that the needle is done again, and answers no more.
      const isRepeated = walked.entries.some(
        (one) => one.kind === 'said' && one.at === at && one.role === 'doctor' && one.step.endsWith('doctor.repeated'),
      );
      if (event.end === 'repeat-booked' && isRepeated) return [];
      return [`${category} ends as ${event.end}, and no doctor has answered`];
    }),
};
