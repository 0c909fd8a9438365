/** The day of the result: the one place for what the patient is told, and for when the laboratory is due. */
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { dayText, localTime } from '../schedule.ts';
import { lastFixedAt } from './aftercare.ts';
import { dayAt, zoneOf } from './common.ts';

/** The day that the patient is told on going home, when nobody knows yet when the slides arrive. */
function toldAt(moment: Moment): number {
  return lastFixedAt(moment) + durationOf(moment.world.programme, 'result-told');
}

/** When the result is due: as the laboratory has it once it has the slides, until then as the patient was told. */
function expectedAt(moment: Moment): number {
  const receivedAt = moment.specimen?.receivedAt ?? null;
  return receivedAt === null ? toldAt(moment) : receivedAt + durationOf(moment.world.programme, 'result');
}

/** How the day that the patient was told stands to the laboratory's; '' on the same day. */
function besideTold(moment: Moment): string {
  const [told, due] = [toldAt(moment), expectedAt(moment)];
  const day = (at: number): string => dayText(localTime(at, zoneOf(moment)));
  if (day(told) === day(due)) return '';
  const key: KeyIn<'laboratory'> = day(told) > day(due) ? 'patient-comes' : 'patient-told';
  return moment.world.texts.render(moment.person.locale, `laboratory.${key}`, () => dayAt(moment, told));
}

export const resultExpected: Matter = {
  values: {
    resultDay: {
      of: (m) => {
        if (m.case!.specimens.every((one) => one.end !== null)) return '';
        return m.world.texts.render(m.person.locale, 'aftercare.result-on', () => dayAt(m, expectedAt(m)));
      },
      sample: ' Come for the result on 26 MAR.',
    },
    resultDue: { of: (m) => dayAt(m, expectedAt(m)), sample: '26 MAR' },
    besideTold: { of: besideTold, sample: ', not 26 MAR: tell the patient' },
  },
};
