/** A question to the doctor, with the whole case on one screen. */
import { sittingStatuses } from '../../case/bedside.ts';
import type { CaseStatus } from '../../case/case.ts';
import { findCodes } from '../../case/code.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { isRaised } from '../alarm-digits.ts';
import { isEmptyNew } from '../empty-new.ts';
import type { FlowQuestion } from '../flow.ts';
import { askingThread, type Interpreter } from '../interpret.ts';
import type { Matter } from '../moment.ts';
import type { Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { notAskedText, notKnownText } from './asked.ts';
import { caseByCode, refuseCode } from './codes.ts';
import { cautionsPlain } from './decision-words.ts';
import { foundBrief, foundHere, whoText } from './summary.ts';

/** While the patient is there it cannot wait; else within a day. */
function urgencyOf(status: CaseStatus | undefined): 'waiting' | 'question' {
  return status !== undefined && sittingStatuses.has(status) ? 'waiting' : 'question';
}

export function questionFor(status: CaseStatus | undefined): FlowQuestion {
  return {
    urgency: urgencyOf(status),
    about: 'asked',
    options: [{ id: 'call-me', reply: '1', care: true }],
  };
}

/** Whether such words name their case themselves, rightly or wrongly. */
export function beginsWithCode(said: string): boolean {
  return findCodes(toAsciiDigits(said).trim()).some((one) => one.from === 0);
}

/**
 * The words of a question, and its case: the one whose code stands first in it, else the one that is worked on. Null: the
 * code is wrong or not for this person, which has been said; it is never taken for a question about another patient.
 */
export function whatAbout(turn: Turn, person: Person, said: string): { words: string; caseId: string | null } | null {
  const text = toAsciiDigits(said).trim();
  const first = findCodes(text).find((one) => one.from === 0);
  if (!first) {
    // Somebody is begun and not named yet: it is about nobody else.
    if (newHere(turn) || isOwnAlarm(turn)) return { words: text, caseId: null };
    const caseId = [...turn.threads].reverse().find((one) => one.caseId !== null)?.caseId ?? null;
    return { words: text, caseId };
  }
  const named = first.code === null ? null : caseByCode(turn, person, first.code);
  if (named) return { words: text.slice(first.to).trim(), caseId: named.id };
  if (first.code === null) turn.say(person, 'desk.wrong-code', { frame: null, caseId: null });
  else refuseCode(turn, person, first.code);
  turn.disturbed = true;
  return null;
}

/** The question asked now is who the new patient is. */
function newHere(turn: Turn): Thread | null {
  const asking = askingThread(turn);
  return asking && isEmptyNew(turn, asking) ? asking : null;
}

/** The alarm that asks is about nobody's patient: a needle went into the worker. */
function isOwnAlarm(turn: Turn): boolean {
  const asking = askingThread(turn);
  return asking !== null && asking.caseId === null && asking.frames.some((frame) => isRaised(turn, frame));
}

function askDoctor(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const about = whatAbout(turn, person, rest);
  if (!about) return;
  const { words, caseId } = about;
  // One question at a time: a form left open is taken up again, or is what these words fill.
  const left = turn.threads.find((one) => one.frames[0]?.flow === 'ask' && one.caseId === caseId);
  if (left) interpreter.remove(left.id);
  if (words === '') {
    interpreter.run('ask', { caseId });
    return;
  }
  turn.aboutCaseId = caseId;
  const question = turn.openQuestion(questionFor(turn.caseOf(caseId)?.status), caseId, null, words);
  const begun = caseId === null ? newHere(turn) : null;
  if (begun) {
    const [bottom, ...above] = begun.frames;
    const vars = { ...bottom!.vars, question: question.id };
    interpreter.put({ ...begun, frames: [{ ...bottom!, vars }, ...above] });
  }
  turn.say(person, 'ask.asked', { frame: null, caseId });
  turn.disturbed = true;
}

export const ask: Matter = {
  commands: { DOCTOR: { roles: ['worker', 'lab', 'coordinator'], run: askDoctor } },
  recorders: {
    'ask-doctor': (m) => [{ do: 'question', question: questionFor(m.case?.status), words: String(m.answer ?? '') }],
  },
  values: {
    tagAnd: {
      of: (m) => (m.case ? m.world.texts.render(m.person.locale, 'doctor.tag-and', () => m.case!.tag) : ''),
      sample: 'AK, ',
    },
    whoShort: { of: whoText, sample: 'AK F 1982 P20w' },
    summaryFindings: {
      of: foundBrief,
      sample:
        'R 22x15x14 solid dark, jagged edge, tiny white dots; TSH normal; Plain rule sample, ACR TR5 sample, EU 5 sample',
    },
    foundSaid: {
      of: foundHere,
      sample: ' Seen: R 22x15x14 solid dark, jagged, tiny dots; TSH normal; Plain rule sample.',
    },
    notAsked: { of: notAskedText, sample: ' NOT ASKED: bleeding, TSH.' },
    notKnown: { of: notKnownText, sample: ' NOT KNOWN: family.' },
    cautionsPlain: { of: cautionsPlain, sample: ' Weak probe: fine signs may be missed.' },
    answerWhen: {
      of: (m) => m.world.texts.render(m.person.locale, `ask.when-${urgencyOf(m.case?.status)}`, () => ''),
      sample: 'within a day',
    },
  },
};
