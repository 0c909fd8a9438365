/** A whole case in plain words, for whoever asks for it by its code. */
import { answerOf, type Specimen } from '../../case/case.ts';
import { isLumpGone } from '../../case/duty.ts';
import type { FiledResult } from '../../case/events.ts';
import type { SlideState } from '../../clinical/fixation.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Moment } from '../moment.ts';
import { parseDay } from '../schedule.ts';
import { dayAt, dayWords } from './common.ts';
import { fluidWords } from './fluid.ts';
import { triedDays, triesOf } from './reach.ts';
import { perhapsText } from './same-patient.ts';

/** A text of the reader's language without values; '' where there is none. */
export function word(moment: Moment, key: string): string {
  return moment.world.texts.has(key) ? moment.world.texts.render(moment.person.locale, key, () => '') : '';
}

/** What happened, in the reader's words; a new outcome without its words does not compile. */
export function happened(moment: Moment, key: KeyIn<'desk'>): string {
  return moment.world.texts.render(moment.person.locale, `desk.${key}`, () => '');
}

/** The same for what a history may hold from before; an id without words of its own is at least no code to look at. */
export function plain(moment: Moment, kind: 'neck' | 'answer' | 'why', id: string): string {
  return word(moment, `desk.${kind}-${id}`) || id.replaceAll('-', ' ');
}

/** `30 MAR` from a day as it is stored. */
export function dayIn(moment: Moment, stored: string): string {
  const day = parseDay(stored);
  return day ? dayWords(day, moment.world.texts.months(moment.person.locale)) : stored;
}

/** As the laboratory said it, and in Thy where that is another name. */
export function shownResult({ code, canonical }: FiledResult): string {
  return code === canonical ? code : `${code} (${canonical})`;
}

/** `1-3 wet at once, 4 late`: slides in their order, those alike together. */
export function slidesText(moment: Moment, { slides, fixative }: Pick<Specimen, 'slides' | 'fixative'>): string {
  const runs: { from: number; to: number; state: SlideState }[] = [];
  slides.forEach((state, index) => {
    const last = runs.at(-1);
    if (last?.state === state) last.to = index + 1;
    else runs.push({ from: index + 1, to: index + 1, state });
  });
  const parts = runs.map(({ from, to, state }) => {
    const numbers = from === to ? `${from}` : `${from}-${to}`;
    return `${numbers} ${happened(moment, `slide-${state}`)}`;
  });
  return `${parts.join(', ')} (${fixative === null ? '' : happened(moment, `fixative-${fixative}`)})`;
}

function specimenParts(moment: Moment, one: Specimen): readonly string[] {
  const parts: string[] = [];
  const add = (key: string, text: string): number => parts.push(`${word(moment, `desk.${key}`)} ${text}`.trim());
  const attempts = one.attempts.map((outcome) => happened(moment, `attempt-${outcome}`));
  if (attempts.length > 0) add('attempts', attempts.join(', '));
  if (one.fluids.length > 0) add('fluid', fluidWords(moment, one.fluids));
  if (one.slides.length > 0) add('slides', slidesText(moment, one));
  if (one.labelledAt !== null) add('labelled', '');
  if (moment.case!.aftercare !== null) add('aftercare', plain(moment, 'neck', moment.case!.aftercare));
  if (one.postedAt !== null) add('posted', dayAt(moment, one.postedAt));
  if (one.receivedAt !== null) add('received', dayAt(moment, one.receivedAt));
  if (one.rejected !== null) add('rejected', happened(moment, `reject-${one.rejected}`));
  for (const filed of one.results) add('result', `${shownResult(filed.result)} ${dayAt(moment, filed.at)}`);
  if (one.acknowledgement !== null) add('doctor', plain(moment, 'answer', one.acknowledgement));
  const tries = triesOf(moment.case!, one.id);
  if (tries.length > 0) add('not-reached', triedDays(moment, tries));
  if (one.told !== null) add('told', happened(moment, `told-${one.told}`));
  if (isLumpGone(moment.case!, one)) add('lump-gone', '');
  if (one.appointedOn !== null) add('appointed', dayIn(moment, one.appointedOn));
  if (one.seen !== null) add('seen', happened(moment, one.seen ? 'seen-yes' : 'seen-no'));
  if (one.end !== null) add('ended', happened(moment, `end-${one.end}`));
  return parts;
}

/** Which lump, decision, sample, result, action: what has happened so far, in order. '' without a case. */
export function caseText(moment: Moment): string {
  const of = moment.case;
  if (!of) return '';
  const parts: string[] = [];
  const perhaps = moment.person.roles.every((role) => role === 'lab') ? '' : perhapsText(moment);
  if (perhaps !== '') parts.push(perhaps);
  if (of.decided) parts.push(`${word(moment, 'desk.decided')} ${word(moment, `decision.said-${of.decided.decision}`)}`);
  if (of.notSampled) parts.push(`${word(moment, 'desk.not-sampled')} ${plain(moment, 'why', of.notSampled.why)}`);
  const tries = triesOf(of, null);
  if (tries.length > 0) parts.push(`${word(moment, 'desk.not-reached')} ${triedDays(moment, tries)}`);
  const sampler = answerOf(of, 'sampler');
  if (typeof sampler === 'string') parts.push(`${word(moment, 'desk.sampler')} ${sampler}`);
  if (moment.specimen) {
    const reporter = answerOf(of, 'reporter', moment.specimen.id);
    if (typeof reporter === 'string') parts.push(`${word(moment, 'desk.reporter')} ${reporter}`);
    parts.push(...specimenParts(moment, moment.specimen));
  }
  if (of.frozen !== null) parts.push(word(moment, 'desk.frozen'));
  if (answerOf(of, 'go-ahead') === undefined && of.decided === null) parts.push(word(moment, 'desk.no-decision'));
  return parts.join('. ');
}
