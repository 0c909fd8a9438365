/** What MORE shows behind CASE: the other sample, the findings, the history, a screen at a time and nothing left out. */
import { formatCode } from '../../case/code.ts';
import { countSegments } from '../../text/segments.ts';
import type { Moment } from '../moment.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { type CaseLine, historyLines } from './case-history.ts';
import { onlyLaboratory } from './case-name.ts';
import { caseText } from './case-words.ts';
import { maySee } from './codes.ts';
import { summaryText } from './summary.ts';

/** Septets of lines on one screen: two segments beside tag, code and page. */
const perScreen = 250;

/** `case:s1`: the rest of the case whose first screen was about this specimen. */
const mark = 'case:';

/**
 * Lines put together into screens; a line that is longer than a screen has one of its own, whole. Day, hour and name stand
 * once where the next line of the screen has the same.
 */
export function screensOf(lines: readonly CaseLine[]): readonly (readonly string[])[] {
  const screens: string[][] = [];
  let left = 0;
  let before: CaseLine | null = null;
  for (const line of lines) {
    const joined = shown(line, before);
    const fits = screens.length > 0 && countSegments(joined).units + 1 <= left;
    const text = fits ? joined : shown(line, null);
    if (fits) screens.at(-1)!.push(text);
    else screens.push([text]);
    left = (fits ? left : perScreen) - countSegments(text).units - 1;
    before = line;
  }
  return screens;
}

function shown({ day, time, who, text }: CaseLine, before: CaseLine | null): string {
  if (who === '') return text;
  if (before?.day !== day) return `${day} ${time} ${who}: ${text}`;
  return before.time === time && before.who === who ? `- ${text}` : `${time} ${who}: ${text}`;
}

const words = (text: string): CaseLine => ({ day: '', time: '', who: '', text });

function linesOf(moment: Moment): readonly CaseLine[] {
  const of = moment.case!;
  const others = of.specimens.filter((one) => one.id !== moment.specimen?.id);
  return [
    ...others.map((one) => words(`${formatCode(one.code)}: ${caseText({ ...moment, specimen: one })}`)),
    ...(onlyLaboratory(moment.person) ? [] : [words(summaryText(moment))]),
    ...historyLines(moment),
  ];
}

/** Remembers that MORE goes on with this case. */
export function offerMore(turn: Turn, caseId: string, specimen: string): void {
  turn.state = { ...turn.state, more: { key: `${mark}${specimen}`, page: 0, caseId } };
}

/** Shows the next screen of the case that was asked for last. False: it was no case, or one that is not to be seen now. */
export function showMoreOfCase(turn: Turn, person: Person): boolean {
  const waiting = turn.state.more;
  const of = waiting?.key.startsWith(mark) ? turn.caseOf(waiting.caseId) : null;
  if (!waiting || !of || !maySee(person, of)) return false;
  const item = waiting.key.slice(mark.length);
  const moment = turn.moment({ ...idleFrame, item }, of.id, person);
  const screens = screensOf(linesOf(moment));
  const screen = screens[waiting.page];
  if (!screen) return false;
  const page = waiting.page + 1;
  const last = page >= screens.length;
  const vars = { lines: screen.join('\n'), page: String(page), pages: String(screens.length) };
  turn.aboutCaseId = of.id;
  turn.say(person, last ? 'desk.case-last' : 'desk.case-more', { frame: null, caseId: of.id, item, vars });
  turn.state = { ...turn.state, more: last ? null : { ...waiting, page } };
  turn.disturbed = true;
  return true;
}
