/** The words that are always open: a new patient, what is open, one case, help in this place, back. */

import { answerOf, specimenOf } from '../../case/case.ts';

import { formatCode } from '../../case/code.ts';
import { agreedDay } from '../../case/duty.ts';
import { roles } from '../../case/roles.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { longestQuoted, quotedWords } from '../../text/one-line.ts';
import { whenWords } from '../answer-question.ts';
import { dropEmptyNew, isEmptyNew } from '../empty-new.ts';
import type { Interpreter } from '../interpret.ts';
import { askingThread, stateOf, topFrame } from '../interpret.ts';
import type { Matter, Moment } from '../moment.ts';
import { asksPractice } from '../practice-word.ts';
import { siteOf } from '../programme.ts';
import { readQuickText } from '../quick-text.ts';
import { localTime, parseDay } from '../schedule.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import { settledThread, undo } from '../undo.ts';
import type { CaseBrief, Person } from '../world.ts';
import { needleAgain } from './again.ts';
import { onlyLaboratory } from './case-name.ts';
import { offerMore, showMoreOfCase } from './case-screens.ts';
import { caseText } from './case-words.ts';
import { caseByCode, codesIn, refuseCode, withoutCodes } from './codes.ts';
import { ageText, dayWords } from './common.ts';
import { partedFrom, tagFor } from './findings.ts';
import { laboratoryLines } from './laboratory-desk.ts';
import { showPeople } from './people-list.ts';
import { ageGroup } from './posting.ts';
import { questionLines } from './question-list.ts';
import { quickFields } from './quick-fields.ts';

/** Cases or questions on one screen of a list. */
const perScreen = 4;

/** Longest words shown as not read, characters: the text about them is one screen. */
const mostLeftover = 60;

function newPatient(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const vocabulary = turn.world.quick.get(person.locale) ?? turn.world.quick.get('en');
  const asked = asksPractice(turn.world.texts, person.locale, rest);
  const practice = asked || !person.practised;
  if (!asked && !person.roles.includes('worker')) {
    // Anybody may practise, and nobody else than a worker begins a patient.
    turn.say(person, 'desk.practice-only', { frame: null, caseId: null });
    turn.disturbed = true;
    return;
  }
  dropEmptyNew(turn);
  if (!vocabulary || rest === '' || practice) {
    interpreter.run('new', { vars: practice ? { practice: true } : {} });
    return;
  }
  const { codes, wrong } = codesIn(rest);
  if (withoutCodes(rest) === '' && codes.length + wrong.length > 0) {
    needleAgain(turn, interpreter, codes[0] ?? null);
    return;
  }
  const zone = siteOf(turn.world.programme, person.siteId).zone;
  const { answers, leftover } = readQuickText(rest, vocabulary, localTime(turn.now, zone).year);
  const initials = answers.find((one) => one.field === 'patient.initials');
  const age = answers.find((one) => one.field === 'patient.birthYear' || one.field === 'patient.ageYears');
  const sex = answers.find((one) => one.field === 'patient.sex');
  const fields = quickFields(answers);
  if (!initials || !age || !sex) {
    // Who it is comes first; what was said of the findings waits for it.
    const said = fields.filter((one) => !one.field.startsWith('patient.'));
    const kept = said.map(({ field, item, value }) => ({ field, item, value }));
    interpreter.run('new', { vars: { quick: kept } });
    return;
  }
  const caseId = turn.nextId('c');
  const moment = turn.moment({ ...idleFrame, flow: 'new' }, null, person);
  const tag = tagFor(moment, String(initials.value), String(age.value).slice(-2), null);
  turn.record(caseId, { type: 'opened', tag, siteId: person.siteId, ownerId: person.id, practice: false });
  turn.carryOut(partedFrom(moment, String(initials.value), tag, caseId), moment.frame, caseId);
  for (const { field, item, value } of fields) turn.record(caseId, { type: 'answered', field, item, value });
  if (leftover.length > 0) {
    const words = quotedWords(leftover.join(' '), mostLeftover);
    turn.say(person, 'new.quick-left', { frame: null, caseId, vars: { said: words } });
  }
  interpreter.run('new', { caseId });
}

/** What an open case waits for; of one that is at hand also whether it was decided already, and what comes. */
function waitingKey(turn: Turn, { id, status, inAlarm }: CaseBrief): TextKey {
  const of = turn.caseOf(id);
  const isSent = of?.notSampled?.why.startsWith('referred') === true;
  if ((of?.sos ?? null) !== null) return 'desk.stands-alarm';
  if (status === 'decision' && !isSent && of?.decided?.decision === 'emergency-now') return 'desk.stands-emergency';
  if (inAlarm) return 'desk.stands-alarm';
  if (of === null || status !== 'decision') return `desk.status-${status}`;
  if (isSent) return 'desk.stands-referred';
  return answerOf(of, 'go-ahead') === 'other-day' ? 'desk.stands-day' : 'desk.status-decision';
}

/** What a patient comes for on a day that was agreed. */
const withDay: ReadonlySet<TextKey> = new Set<TextKey>([
  'desk.stands-referred',
  'desk.stands-day',
  'desk.status-readiness',
]);

/** One line for an open case: tag, code, what it waits for. */
function briefLine(turn: Turn, person: Person, brief: CaseBrief): string {
  const code = brief.codes[0] === undefined ? '' : ` ${formatCode(brief.codes[0])}`;
  const of = turn.caseOf(brief.id);
  const key = waitingKey(turn, brief);
  const wait = turn.world.texts.render(person.locale, key, () => '');
  const zone = siteOf(turn.world.programme, person.siteId).zone;
  // Beside what a patient comes for stands the day that was agreed, never the later one on which it is owed.
  const agreed = of && withDay.has(key) ? agreedDay(of) : null;
  const day = parseDay(agreed ?? '') ?? (brief.dueAt === null ? null : localTime(brief.dueAt, zone));
  const due = day === null ? '' : ` ${dayWords(day, turn.world.texts.months(person.locale))}`;
  const { length } = of?.tries ?? [];
  const tried = length === 0 ? '' : turn.world.texts.render(person.locale, 'desk.tried', () => String(length));
  return `${brief.tag}${code} ${wait}${due}${tried}`;
}

function showList(turn: Turn, interpreter: Interpreter, page: number): void {
  const person = interpreter.person;
  const questions = person.roles.includes('doctor') ? questionLines(turn, person) : [];
  const only = person.roles.every((one) => one === 'lab');
  const { briefs } = turn.world;
  // Who may end a case names it by the number of its line.
  const isNumbered = turn.registry.commands.get('END')?.roles.some((one) => person.roles.includes(one)) === true;
  const own = briefs.map((one, index) => `${isNumbered ? `${index + 1}. ` : ''}${briefLine(turn, person, one)}`);
  const cases = only ? laboratoryLines(turn, person) : own;
  if (isNumbered) turn.state = { ...turn.state, listed: { at: turn.now, ids: briefs.map(({ id }) => id) } };
  const lines = [...questions, ...cases];
  const shown = lines.slice(page * perScreen, (page + 1) * perScreen);
  if (shown.length === 0) {
    turn.say(person, only ? 'laboratory.list-nothing' : 'desk.nothing-open', { frame: null, caseId: null });
    turn.state = { ...turn.state, more: null };
  } else {
    const left = lines.length - (page + 1) * perScreen;
    const key = left > 0 ? 'desk.list-more' : 'desk.list';
    turn.say(person, key, { frame: null, caseId: null, vars: { lines: shown.join('\n'), count: String(left) } });
    turn.state = { ...turn.state, more: left > 0 ? { key: 'list', page: page + 1, caseId: null } : null };
  }
  turn.disturbed = true;
}

/** One whole case; free words after the code are kept and shown to the doctor. */
function showCase(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  const code = codes[0];
  if (code === undefined) {
    turn.say(person, wrong.length > 0 ? 'desk.wrong-code' : 'desk.which-code', { frame: null, caseId: null });
    return;
  }
  const of = caseByCode(turn, person, code);
  if (!of) {
    refuseCode(turn, person, code);
    return;
  }
  turn.aboutCaseId = of.id;
  const specimen = specimenOf(of, code)!;
  const words = withoutCodes(rest);
  if (words !== '') {
    turn.record(of.id, { type: 'noted', words });
    const noted = person.roles.includes('doctor') ? 'desk.noted-for-clinic' : 'desk.noted';
    turn.say(person, noted, { frame: null, caseId: of.id, item: specimen.id });
    // A doctor's words are for the clinic, a worker's for the doctors.
    const doctor = person.roles.includes('doctor');
    const [to, key] = doctor ? (['owner', 'note-for-clinic'] as const) : (['doctors', 'note-for-doctor'] as const);
    turn.notify(to, `desk.${key}`, 'notice', of.id, specimen.id, {
      words: quotedWords(words, longestQuoted),
      who: person.name,
      doctor: person.name,
    });
    return;
  }
  turn.say(person, 'desk.case', { frame: null, caseId: of.id, item: specimen.id });
  offerMore(turn, of.id, specimen.id);
}

function help(turn: Turn, interpreter: Interpreter): void {
  const person = interpreter.person;
  const asking = askingThread(turn);
  const frame = asking ? topFrame(asking) : null;
  const state = frame ? stateOf(turn, frame) : null;
  if (asking?.ask && frame && state) {
    const own = `${frame.flow}.help-${frame.state}`;
    if (turn.world.texts.has(own)) turn.say(person, own, { frame: null, caseId: asking.caseId });
    const replies = asking.ask.options.map((one) => one.reply).join(' ');
    const key = replies === '' ? 'desk.help-open' : 'desk.help-here';
    turn.say(person, key, { frame: null, caseId: asking.caseId, vars: { replies } });
    turn.disturbed = true;
    return;
  }
  const role = person.roles[0] ?? 'worker';
  turn.say(person, `desk.help-${role}`, { frame: null, caseId: null });
}

function back(turn: Turn, interpreter: Interpreter): void {
  // The same answer behind a `B` was typed anew: no network puts one between two copies.
  const { taken: _before, ...state } = turn.state;
  turn.state = state;
  const asking = askingThread(turn);
  if (asking && interpreter.back(asking.id)) return;
  if (asking && isEmptyNew(turn, asking)) {
    dropEmptyNew(turn);
    turn.say(interpreter.person, 'new.dropped', { frame: null, caseId: null });
    turn.disturbed = true;
    return;
  }
  const thread = asking ?? settledThread(turn);
  const undone = thread ? undo(turn, interpreter, thread) : 'no';
  if (undone === 'asked-again') return;
  if (thread && undone !== 'no') {
    const vars = { who: undone.actedSince };
    turn.say(interpreter.person, 'desk.acted-since', { frame: null, caseId: thread.caseId, vars });
    return;
  }
  turn.say(interpreter.person, 'desk.no-way-back', { frame: null, caseId: asking?.caseId ?? null });
  turn.disturbed = true;
}

function more(turn: Turn, interpreter: Interpreter): void {
  const waiting = turn.state.more;
  if (waiting?.key === 'list') showList(turn, interpreter, waiting.page);
  else if (waiting?.key.startsWith('people:')) {
    showPeople(turn, interpreter, waiting.key.slice('people:'.length), waiting.page);
  } else if (!showMoreOfCase(turn, interpreter.person)) {
    turn.say(interpreter.person, 'desk.no-more', { frame: null, caseId: null });
    turn.disturbed = true;
  }
}

/** What the case waits for, with the day it is due. */
function waitsFor(moment: Moment): string {
  const of = moment.case;
  return of ? moment.world.texts.render(moment.person.locale, `desk.status-${of.status}`, () => '') : '';
}

export const desk: Matter = {
  commands: {
    NEW: { roles, run: newPatient },
    LIST: { roles, run: (turn, interpreter) => showList(turn, interpreter, 0) },
    CASE: { roles, run: showCase },
    MORE: { roles, run: more },
    HELP: { roles, run: help },
    BACK: { roles, run: back },
  },
  values: {
    waitsFor: { of: waitsFor, sample: 'waits for the result' },
    statusSince: { of: (m) => (m.case ? whenWords(m, m.person, m.case.statusAt) : ''), sample: '25 MAR 10:15' },
    // The tag is made of initials: on a slide they may be what proves a result.
    tagHere: { of: (m) => (onlyLaboratory(m.person) || !m.case ? '' : `${m.case.tag} `), sample: 'AK48 ' },
    // The laboratory reads the year from the glass: what it quotes back must not come from us.
    bornHere: { of: (m) => (onlyLaboratory(m.person) && m.case ? ageGroup(m) : ageText(m)), sample: '1982' },
    caseText: { of: caseText, sample: 'AK F 1982 R 22x15x14 solid dark. SAMPLE. Attempts blood, material. 4 slides' },
  },
};
