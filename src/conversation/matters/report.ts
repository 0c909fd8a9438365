/** REPORT: how the line stands and how good the samples are, told at any time; the morning text says the first of it by itself. */
import type { Figures } from '../../case/figures.ts';
import { goesOnSign } from '../../text/screens.ts';
import { looksAheadMs } from '../digest.ts';
import type { Interpreter } from '../interpret.ts';
import type { Matter, Moment } from '../moment.ts';
import { durationOf, siteOf } from '../programme.ts';
import type { Turn } from '../turn.ts';
import { dayAt } from './common.ts';

/** Read where the whole line is loaded: as an event of its own for the same person. */
function report(turn: Turn, interpreter: Interpreter): void {
  const { programme } = turn.world;
  const until = turn.now + looksAheadMs;
  const since = turn.now - durationOf(programme, 'report-look-back');
  turn.post(interpreter.person.id, { kind: 'overview', for: 'report', until, since, head: null }, { caseId: null });
}

/** `results late: 2; results not told: 1; STOCK LOW: ORUMA CLINIC`. */
function lateWords(m: Moment): string {
  return String(m.frame.vars.parts ?? '')
    .split(';')
    .map((part) => {
      const [kind = '', count = '', names = ''] = part.split('=');
      const values: Readonly<Record<string, string>> = { count, names };
      const key = `digest.late-${kind}`;
      return m.world.texts.has(key) ? m.world.texts.render(m.person.locale, key, (name) => values[name] ?? '') : '';
    })
    .filter((one) => one !== '')
    .join('; ');
}

/** What a next screen of the same morning begins with. */
function nextScreen(m: Moment): string {
  return `${m.world.texts.render(m.person.locale, 'digest.goes-on', () => dayAt(m, m.now))}${goesOnSign}`;
}

/** ` PROOF 7KQ2M9X4T1BC`: the mark of the day's head, for whoever holds the history against it later. */
function proofWords(m: Moment): string {
  const { head } = m.frame.vars;
  return typeof head === 'string' ? ` ${m.world.texts.render(m.person.locale, 'digest.proof', () => head)}` : '';
}

/** A part of Monday's text, or nothing where there is none of its kind. */
function standingWords(m: Moment, key: 'unsigned-values' | 'unread-texts', name: string): string {
  const shown = String(m.frame.vars[name] ?? '');
  if (shown === '' || shown === '0') return '';
  return `${m.world.texts.render(m.person.locale, `digest.${key}`, () => shown)} `;
}

function figure(m: Moment, name: keyof Figures): string {
  const text = m.frame.vars.figures;
  if (typeof text !== 'string') return '';
  const value = (JSON.parse(text) as Figures)[name];
  return value === null ? '-' : String(value);
}

const showing = (name: string, of: keyof Figures, sample: string) => ({
  [name]: { of: (m: Moment) => figure(m, of), sample },
});

export const reportMatter: Matter = {
  commands: { REPORT: { roles: ['doctor', 'coordinator'], run: report } },
  values: {
    late: { of: lateWords, sample: 'results late: 2; results not told: 1; parcels not confirmed: 1' },
    lateGoesOn: { of: nextScreen, sample: `5 MAR, more:${goesOnSign}` },
    unsignedValues: {
      of: (m) => standingWords(m, 'unsigned-values', 'unsigned'),
      sample: 'No clinician has signed 141 of my values yet. ',
    },
    unreadTexts: {
      of: (m) => standingWords(m, 'unread-texts', 'unread'),
      sample: 'Nobody has read my texts in English, Kiswahili. ',
    },
    proof: { of: proofWords, sample: ' PROOF 7KQ2M9X4T1BC' },
    figureSite: {
      of: (m) => siteOf(m.world.programme, figure(m, 'siteId') || m.person.siteId).name,
      sample: 'ORUMA CLINIC',
    },
    ...showing('figureResults', 'results', '12'),
    ...showing('figureUnreadable', 'unreadable', '3'),
    ...showing('figureAttempts', 'attempts', '20'),
    ...showing('figureBloody', 'bloody', '4'),
    ...showing('figureAwaited', 'awaited', '2'),
    ...showing('figureDays', 'medianDays', '9'),
    reportDays: {
      of: (m) => String(durationOf(m.world.programme, 'report-look-back') / 86_400_000),
      sample: '90',
    },
  },
};
