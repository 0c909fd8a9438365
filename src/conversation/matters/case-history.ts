/** The history of a case in plain words, one line a step: when, who, what. */

import { type Case, specimenOf } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import type { Milestone, ToldEvent } from '../../case/milestones.ts';
import { assertNever } from '../../clinical/assert-never.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { quotedWords } from '../../text/one-line.ts';
import type { Moment } from '../moment.ts';
import { personById } from '../people.ts';
import { localTime } from '../schedule.ts';
import { onlyLaboratory } from './case-name.ts';
import { dayIn, happened, plain, shownResult, slidesText, word } from './case-words.ts';
import { clockText, dayAt, readerZone } from './common.ts';

/** Free words of the history are shown whole, as long as a text may be. */
const wholeText = 1600;

/** Steps that a laboratory reads: the sample's own way. What is said about the patient stays between clinic and doctors. */
const forLaboratories: ReadonlySet<ToldEvent['type']> = new Set([
  ...(['code-issued', 'attempted', 'fluid', 'slides-fixed', 'labelled', 'posted', 'received', 'rejected'] as const),
  ...(['read-back-failed', 'results-locked', 'results-unlocked', 'result-filed', 'thy1-reason'] as const),
  'result-not-counted',
]);

/** One line of a case: of the history with when and who, else with words alone. */
export interface CaseLine {
  readonly day: string;
  readonly time: string;
  readonly who: string;
  readonly text: string;
}

/** `4 MAR 11:20 Ada: label checked`, oldest first; what this reader may not see is left out. */
export function historyLines(moment: Moment): readonly CaseLine[] {
  const of = moment.case;
  if (!of) return [];
  const only = onlyLaboratory(moment.person);
  return of.milestones
    .filter((one) => !only || forLaboratories.has(one.event.type))
    .map((one) => ({
      day: dayText(moment, one.at),
      time: clockText(one.at, readerZone(moment)),
      who: whoText(moment, one),
      text: eventText(moment, of, one.event),
    }));
}

function dayText(m: Moment, at: number): string {
  const [then, now] = [localTime(at, readerZone(m)).year, localTime(m.now, readerZone(m)).year];
  return `${dayAt(m, at)}${then === now ? '' : ` ${then}`}`;
}

/** Questions that a person asks; the others are asked by the line. */
const askedByPeople: ReadonlySet<string> = new Set(['asked', 'sos']);

function whoText(m: Moment, { by, event }: Milestone): string {
  if (event.type === 'doctor-asked' && !askedByPeople.has(event.about)) return word(m, 'history.line');
  return personById(m.world, by)?.name ?? word(m, by === 'line' ? 'history.line' : 'history.somebody');
}

/** Words of an option of a question, or the id in words. */
function option(m: Moment, field: string, id: string): string {
  const label = m.world.texts.label(m.person.locale, field, id);
  return label === '' ? id.replaceAll('-', ' ') : label;
}

function eventText(m: Moment, of: Case, event: ToldEvent): string {
  const kind = event.type === 'attended' ? (event.seen ? 'seen' : 'not-seen') : event.type;
  const said = (values: Readonly<Record<string, string>> = {}, key: KeyIn<'history'> = kind): string =>
    m.world.texts.render(m.person.locale, `history.${key}`, (name) => values[name] ?? '');
  // With two samples each line says whose it is.
  const codeOf = (id: string | null): string => {
    const one = of.specimens.length > 1 ? specimenOf(of, id) : null;
    return one ? `${formatCode(one.code)} ` : '';
  };
  const about = 'specimen' in event ? codeOf(event.specimen) : '';
  const quoted = (words: string): string => (words === '' ? '' : ` "${quotedWords(words, wholeText)}"`);
  const aboutOf = (question: string): string => {
    const asked = of.milestones.find((one) => one.event.type === 'doctor-asked' && one.event.question === question);
    return asked?.event.type === 'doctor-asked' ? asked.event.about : '';
  };
  switch (event.type) {
    case 'opened':
      return said({}, event.earlierCaseId === undefined ? 'opened' : 'opened-again');
    case 'linked':
      return said({}, event.earlierCaseId === null ? 'not-linked' : 'linked');
    case 'decided':
      return said({ what: word(m, `decision.said-${event.decision}`) });
    case 'code-issued': {
      const side = option(m, 'sideShort', event.target.side);
      const technique = word(m, `posting.tech-${event.technique}`);
      const what = `${side} ${event.target.mm.join('x')}, ${technique}`;
      return said({ code: formatCode(event.code), what, count: String(event.slides) });
    }
    case 'attempted':
      return `${about}${said({ count: String(event.attempt), what: happened(m, `attempt-${event.outcome}`) })}`;
    case 'fluid': {
      const look = option(m, 'fluid', event.look);
      return `${about}${said({ count: String(event.attempt), what: `${event.ml} ml ${look}` })}`;
    }
    case 'needle-not-done':
      return said();
    case 'slides-fixed':
      return `${about}${said({ what: slidesText(m, event) })}`;
    case 'aftercare-done':
      return said({ what: plain(m, 'neck', event.outcome) });
    case 'posted':
      return `${event.specimens.map(codeOf).join('')}${said()}`;
    case 'received':
      return `${about}${said({ count: String(event.slides) })}`;
    case 'rejected':
      return `${about}${said({ what: happened(m, `reject-${event.reason}`) })}`;
    case 'result-filed': {
      const values = { what: `${shownResult(event.result)}${quoted(event.result.words)}${quoted(event.reason ?? '')}` };
      return `${about}${said(values, event.amends === null ? 'result-filed' : 'result-amended')}`;
    }
    case 'thy1-reason':
      return `${about}${said({ what: option(m, 'thy1-reason', event.reason) })}`;
    case 'told':
      return `${about}${said({ what: happened(m, `told-${event.outcome}`) })}`;
    case 'appointed':
      return `${about}${said({ what: dayIn(m, event.on) })}`;
    case 'specimen-closed':
      return `${about}${said({ what: happened(m, `end-${event.end}`) })}`;
    case 'not-sampled': {
      const again = event.reviewOn === null ? '' : ` ${said({ what: dayIn(m, event.reviewOn) }, 'look-again')}`;
      return `${said({ what: plain(m, 'why', event.why) })}${again}`;
    }
    case 'closed':
      return said({ what: plain(m, 'why', event.outcome) });
    case 'sos-raised':
      return event.sign === 'not-said'
        ? said({}, 'sos')
        : said({ what: option(m, event.sign === 'worse' ? 'sos-now' : 'sos-sign', event.sign) });
    case 'sos-over':
      return said({ what: word(m, `history.over-${event.outcome}`) });
    case 'doctor-asked':
      return event.about === 'asked'
        ? `${said({}, 'doctor-asked-freely')}${quoted(event.words)}`
        : `${said({ what: word(m, `doctor.about-${event.about}`) })}${quoted(event.words)}`;
    case 'doctor-answered': {
      const known = event.answer === 'words' ? '' : ` ${option(m, aboutOf(event.question), event.answer)}`;
      return `${said()}${known}${quoted(event.words)}`;
    }
    case 'taken-over':
      return said({ who: personById(m.world, event.ownerId)?.name ?? word(m, 'history.somebody') });
    case 'noted':
      return `${said()}${quoted(event.words)}`;
    case 'frozen':
    case 'released':
      return said();
    case 'attended':
    case 'labelled':
    case 'read-back-failed':
    case 'result-not-counted':
    case 'results-locked':
    case 'results-unlocked':
    case 'reopened':
    case 'phoned':
    case 'not-reached':
    case 'reached':
      return `${about}${said()}`;
    default:
      return assertNever(event);
  }
}
