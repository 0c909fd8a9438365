/** The alarms of a patient's day, for whoever decides something about that patient. */
import { answerOf, type Case } from '../../case/case.ts';
import type { Matter, Moment } from '../moment.ts';
import { dayText, localTime } from '../schedule.ts';
import { clockText, readerZone, zoneOf } from './common.ts';

/** An alarm about the patient: when it was raised, what was said of it, and whether it goes on. */
interface PastAlarm {
  readonly at: number;
  /** A sign of first aid, '' where nobody said one. */
  readonly sign: string;
  readonly isOpen: boolean;
}

/** Words of a raise that are no sign. */
const noSigns: ReadonlySet<string> = new Set(['not-said', 'worse']);

/** All alarms of a case, oldest first. A needle that went into the worker is none about the patient. */
function alarmsIn(of: Case): readonly PastAlarm[] {
  const alarms: PastAlarm[] = [];
  for (const { at, event } of of.milestones) {
    const last = alarms.at(-1);
    if (event.type === 'sos-over' && last?.isOpen) alarms[alarms.length - 1] = { ...last, isOpen: false };
    if (event.type !== 'sos-raised') continue;
    const sign = noSigns.has(event.sign) ? '' : event.sign;
    if (last?.isOpen) alarms[alarms.length - 1] = { ...last, sign: sign || last.sign };
    else alarms.push({ at, sign, isOpen: true });
  }
  return alarms.filter((one) => one.sign !== 'needle-stick');
}

/** `; SOS today 10:12: faint, slow pulse`: the alarms of this day in this case and in the one that it follows; '' = none. */
function alarmSaidText(moment: Moment): string {
  const of = moment.case;
  if (!of) return '';
  const isToday = (at: number): boolean =>
    dayText(localTime(at, zoneOf(moment))) === dayText(localTime(moment.now, zoneOf(moment)));
  const before = answerOf(of, 'alarm-before');
  const earlier: readonly PastAlarm[] = typeof before === 'number' ? [{ at: before, sign: '', isOpen: false }] : [];
  const { texts } = moment.world;
  const { locale } = moment.person;
  return [...earlier, ...alarmsIn(of)]
    .filter(({ at, isOpen }) => isOpen || isToday(at))
    .map(({ at, sign, isOpen }) => {
      const values: Readonly<Record<string, string>> = {
        when: clockText(at, readerZone(moment)),
        words: sign === '' ? '' : `: ${texts.label(locale, 'sos-sign', sign)}`,
      };
      return texts.render(locale, isOpen ? 'sos.said-now' : 'sos.said-today', (name) => values[name] ?? '');
    })
    .join('');
}

export const alarmSaid: Matter = {
  values: { alarmSaid: { of: alarmSaidText, sample: '; SOS today 10:12: bleeding, swelling' } },
};
