/** The laboratory's desk: receipt, refusal, results with their read-back. */
import { type Case, currentResult, type Specimen, specimenOf } from '../../case/case.ts';
import { checkCode, formatCode } from '../../case/code.ts';
import type { FiledResult, RejectReason } from '../../case/events.ts';
import { type ParsedResult, parseResult } from '../../clinical/cytology/parse.ts';
import { readChoice } from '../answers/choice.ts';
import { foldInitials, readConfirmation } from '../answers/confirmation.ts';
import type { Interpreter } from '../interpret.ts';
import { type Matter, record } from '../moment.ts';
import { carrier } from '../people.ts';
import { laboratoryOf, limitOf } from '../programme.ts';
import type { Turn } from '../turn.ts';
import { caseByCode, codesIn } from './desk.ts';
import { resultConsequences } from './filing.ts';
import { resultValues } from './laboratory-words.ts';
import { slidesSent } from './posting.ts';

const rejectReasons: readonly RejectReason[] = ['no-name', 'not-the-same', 'broken', 'leaked-or-dried', 'missing'];

interface Named {
  readonly of: Case;
  readonly specimen: Specimen;
}

/** The posted specimen of this laboratory that a code names; says why when there is none. */
function named(turn: Turn, interpreter: Interpreter, code: string): Named | null {
  const person = interpreter.person;
  const of = caseByCode(turn, person, code);
  const specimen = of ? specimenOf(of, code) : null;
  if (of && specimen?.postedAt) {
    turn.aboutCaseId = of.id;
    return { of, specimen };
  }
  if (of && specimen) {
    turn.say(person, 'laboratory.not-posted', { frame: null, caseId: of.id, item: specimen.id });
    return null;
  }
  turn.say(person, 'laboratory.unknown-code', { frame: null, caseId: null, vars: { shownCode: formatCode(code) } });
  return null;
}

/** `GOT 48291354 4`, several codes in one text. */
function got(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  turn.disturbed = true;
  const parts = [...rest.matchAll(/(\d{4}[\s.-]?\d{4}(?:[\s.-]?\d{2}(?=\s|$|[,;]))?)(?:\s*[:=]?\s+(\d{1,2})(?!\d))?/g)];
  if (parts.length === 0) {
    turn.say(person, 'laboratory.which-code', { frame: null, caseId: null });
    return;
  }
  for (const part of parts) {
    const checked = checkCode(part[1]!);
    if (!checked.ok) {
      turn.say(person, 'laboratory.wrong-code', { frame: null, caseId: null });
      continue;
    }
    const found = named(turn, interpreter, checked.code);
    if (!found) continue;
    const { of, specimen } = found;
    const where = { frame: null, caseId: of.id, item: specimen.id };
    if (specimen.receivedAt !== null && specimen.rejected === null) {
      turn.say(person, 'laboratory.got-already', where);
      continue;
    }
    const slides = part[2] === undefined ? slidesSent(specimen) : Number(part[2]);
    turn.record(of.id, { type: 'received', specimen: specimen.id, slides });
    const fewer = slides !== slidesSent(specimen);
    turn.say(person, fewer ? 'laboratory.got-fewer' : 'laboratory.got', where);
    turn.notify('owner', 'laboratory.received-for-worker', 'notice', of.id, specimen.id, {});
  }
}

/** `BAD 48291354 no name`; without a reason it is asked for. */
function bad(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  const code = codes[0];
  if (code === undefined) {
    const key = wrong.length > 0 ? 'laboratory.wrong-code' : 'laboratory.which-code';
    turn.say(person, key, { frame: null, caseId: null });
    return;
  }
  const found = named(turn, interpreter, code);
  if (!found) return;
  const words = rest.replace(/\d(?:[\s.-]?\d){7,9}/, '').trim();
  const options = rejectReasons.map((id, index) => ({
    id,
    reply: String(index + 1),
    words: turn.world.texts.words(person.locale, 'reject-reason', id),
  }));
  const read = words === '' ? null : readChoice(words, options);
  if (read?.ok) {
    const reason = read.value as RejectReason;
    reject(turn, found, reason);
    turn.say(person, 'rejected.noted', { frame: null, caseId: found.of.id, item: found.specimen.id });
    return;
  }
  interpreter.run('rejected', { caseId: found.of.id, item: found.specimen.id });
}

function reject(turn: Turn, { of, specimen }: Named, reason: RejectReason): void {
  turn.record(of.id, { type: 'rejected', specimen: specimen.id, reason });
  turn.notify('doctors', 'laboratory.bad-for-doctor', 'notice', of.id, specimen.id, {});
  const who = carrier(turn.world, of);
  if (who) {
    const what = { kind: 'run', flow: 'unusable', caseId: of.id, item: specimen.id, vars: {} } as const;
    turn.post(who.id, what, { caseId: of.id });
  }
}

/** A line that names a specimen: its code, and what stands beside it. */
function resultLines(text: string): readonly { readonly code: string | null; readonly rest: string }[] {
  return text
    .split(/\n|;/)
    .map((line) => /(?:^|\s)(\d{4}[\s.-]?\d{4})(?![\s.-]?\d)/.exec(line) ?? /(\d{4}[\s.-]?\d{4})/.exec(line))
    .flatMap((found) => {
      if (!found) return [];
      const checked = checkCode(found[1]!);
      const rest = found.input.replace(found[1]!, ' ').trim();
      return [{ code: checked.ok ? checked.code : null, rest }];
    });
}

/** True when a text of the laboratory names a specimen with something beside it. */
export function isResult(text: string): boolean {
  return resultLines(text).some((line) => line.rest !== '');
}

/** A text that is no keyword: results, one or several. */
function hearWords(turn: Turn, interpreter: Interpreter, text: string): void {
  const person = interpreter.person;
  const lines = resultLines(text);
  if (lines.length === 0) {
    turn.say(person, 'desk.help-lab', { frame: null, caseId: null });
    return;
  }
  for (const line of lines) {
    if (line.code === null) turn.say(person, 'laboratory.wrong-code', { frame: null, caseId: null });
    else hearResult(turn, interpreter, line.code, line.rest);
  }
}

function hearResult(turn: Turn, interpreter: Interpreter, code: string, rest: string): void {
  const person = interpreter.person;
  if (!turn.cases.some((one) => specimenOf(one, code) !== null)) {
    const vars = { shownCode: formatCode(code) };
    turn.say(person, 'laboratory.held', { frame: null, caseId: null, vars });
    turn.notify('coordinators', 'laboratory.held-for-coordinator', 'notice', null, null, vars);
    return;
  }
  const found = named(turn, interpreter, code);
  if (!found) return;
  const { of, specimen } = found;
  const where = { frame: null, caseId: of.id, item: specimen.id };
  if (specimen.locked) {
    turn.say(person, 'laboratory.locked', where);
    return;
  }
  const lab = laboratoryOf(turn.world.programme, of.siteId);
  const parsed = parseResult(rest, lab.system.toLowerCase() as 'thy' | 'bethesda' | 'tir');
  if (!parsed.ok) {
    turn.say(person, askKey(parsed), {
      ...where,
      vars: { shownCode: formatCode(code), shownCodePlain: code, options: parsed.options.join(', ') },
    });
    return;
  }
  if (currentResult(specimen)?.result.code === parsed.code && specimen.readBack === null) {
    turn.say(person, 'laboratory.same', where);
    return;
  }
  readBack(turn, interpreter, found, filed(parsed));
}

function askKey(parsed: ParsedResult & { readonly ok: false }): string {
  switch (parsed.ask) {
    case 'bare-number':
    case 'bare-roman':
      return 'laboratory.ask-bare-number';
    case 'letter-missing':
    case 'letter-unclear':
      return 'laboratory.ask-letter-missing';
    case 'two-codes':
      return 'laboratory.ask-two-codes';
    case 'no-such-code':
      return 'laboratory.ask-no-such-code';
    case 'unreadable':
      return 'laboratory.ask-unreadable';
  }
}

const systems = { thy: 'Thy', bethesda: 'Bethesda', tir: 'TIR' } as const;

function filed(parsed: ParsedResult & { readonly ok: true }): FiledResult {
  const { said, system, code, canonical, words } = parsed;
  return { said, system: systems[system], code, canonical, words };
}

function readBack(turn: Turn, interpreter: Interpreter, { of, specimen }: Named, result: FiledResult): void {
  endReadBack(turn, interpreter, of.id, specimen.id);
  if (specimen.readBack) {
    turn.record(of.id, { type: 'read-back-dropped', specimen: specimen.id, why: 'replaced' });
  }
  const lapsesAt = turn.now + (turn.world.programme.durations['read-back-lapse'] ?? 0);
  const challenge = turn.draw.digits(4);
  turn.record(of.id, { type: 'read-back', specimen: specimen.id, result, challenge, lapsesAt });
  interpreter.run('read-back', { caseId: of.id, item: specimen.id });
}

function endReadBack(turn: Turn, interpreter: Interpreter, caseId: string, item: string): void {
  for (const thread of turn.threads) {
    const frame = thread.frames.at(-1);
    if (thread.caseId === caseId && frame?.flow === 'read-back' && frame.item === item) {
      interpreter.take(thread.id, 'read-back.over');
    }
  }
}

/** Specimens whose read-back waits on this phone, the newest last. */
function waiting(turn: Turn): readonly Named[] {
  return turn.threads.flatMap((thread) => {
    const frame = thread.frames.at(-1);
    const of = frame?.flow === 'read-back' ? turn.caseOf(thread.caseId) : null;
    const specimen = of ? specimenOf(of, frame?.item ?? null) : null;
    return of && specimen?.readBack ? [{ of, specimen }] : [];
  });
}

/** `YES 4718 1982`: the line's own number, and what is written on the glass. */
function yes(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  turn.disturbed = true;
  const open = waiting(turn);
  const newest = open.at(-1);
  if (!newest) {
    fresh(turn, interpreter);
    return;
  }
  const read = readConfirmation(`YES ${rest}`);
  if (!read.ok || read.value.answer === 'no' || read.value.challenge === null || read.value.second === null) {
    turn.say(person, 'laboratory.needs-quote', { frame: null, caseId: newest.of.id, item: newest.specimen.id });
    return;
  }
  const { challenge, second } = read.value;
  const meant = open.find((one) => one.specimen.readBack?.challenge === challenge);
  const about = meant ?? newest;
  const right = meant !== undefined && second === quoteOf(meant.of) && meant.specimen.readBack!.lapsesAt >= turn.now;
  endReadBack(turn, interpreter, about.of.id, about.specimen.id);
  if (!right) {
    void wrongQuote(turn, interpreter, about);
    return;
  }
  file(turn, interpreter, about);
}

/** What the slide says beside the name: the birth year, or the initials where no year is known. */
export function quoteOf(of: Case): string {
  const born = of.answers['patient.birthYear'];
  if (typeof born === 'number') return String(born);
  return foldInitials(String(of.answers['patient.initials'] ?? ''));
}

function wrongQuote(turn: Turn, interpreter: Interpreter, { of, specimen }: Named): void {
  const person = interpreter.person;
  const where = { frame: null, caseId: of.id, item: specimen.id };
  turn.record(of.id, { type: 'read-back-failed', specimen: specimen.id });
  const tries = specimenOf(turn.caseOf(of.id)!, specimen.id)?.wrongConfirmations ?? 0;
  if (tries < limitOf(turn.world.programme, 'wrong-challenges')) {
    turn.say(person, 'laboratory.void', where);
    return;
  }
  turn.record(of.id, { type: 'results-locked', specimen: specimen.id });
  turn.say(person, 'laboratory.locked', where);
  turn.notify('coordinators', 'laboratory.locked-for-coordinator', 'notice', of.id, specimen.id, {});
}

function file(turn: Turn, interpreter: Interpreter, { of, specimen }: Named): void {
  const person = interpreter.person;
  const { result } = specimen.readBack!;
  const amends = specimen.results.length > 0 ? specimen.results.length - 1 : null;
  if (specimen.receivedAt === null) {
    turn.record(of.id, { type: 'received', specimen: specimen.id, slides: slidesSent(specimen) });
  }
  turn.record(of.id, { type: 'result-filed', specimen: specimen.id, result, amends, reason: null });
  turn.say(person, 'laboratory.filed', { frame: null, caseId: of.id, item: specimen.id });
  resultConsequences(turn, turn.caseOf(of.id)!, specimen.id);
  if (result.canonical.startsWith('Thy1')) interpreter.run('thy1-reason', { caseId: of.id, item: specimen.id });
}

/** A YES after the read-back lapsed gets a fresh one, never a filing. */
function fresh(turn: Turn, interpreter: Interpreter): void {
  const of = turn.caseOf(turn.state.lastCaseId);
  const specimen = of?.specimens.find((one) => one.lapsed !== null && one.readBack === null && !one.locked);
  if (of && specimen) {
    readBack(turn, interpreter, { of, specimen }, specimen.lapsed!);
    return;
  }
  turn.say(interpreter.person, 'laboratory.nothing-to-confirm', { frame: null, caseId: null });
}

function no(turn: Turn, interpreter: Interpreter): void {
  const newest = waiting(turn).at(-1);
  turn.disturbed = true;
  if (!newest) {
    turn.say(interpreter.person, 'laboratory.nothing-to-confirm', { frame: null, caseId: null });
    return;
  }
  const { of, specimen } = newest;
  endReadBack(turn, interpreter, of.id, specimen.id);
  turn.record(of.id, { type: 'read-back-dropped', specimen: specimen.id, why: 'denied' });
  turn.say(interpreter.person, 'laboratory.dropped', { frame: null, caseId: of.id, item: specimen.id });
}

export const laboratory: Matter = {
  commands: {
    GOT: { roles: ['lab'], run: got },
    BAD: { roles: ['lab'], run: bad },
    YES: { roles: ['lab'], run: yes },
    NO: { roles: ['lab'], run: (turn, interpreter) => no(turn, interpreter) },
    WORDS: { roles: ['lab'], run: hearWords },
  },
  recorders: {
    rejected: (m) => {
      const reason = m.answer as RejectReason;
      const who = carrier(m.world, m.case!);
      const item = m.specimen!.id;
      return [
        record({ type: 'rejected', specimen: item, reason }),
        { do: 'notify', to: 'doctors', text: 'laboratory.bad-for-doctor', lane: 'notice' },
        ...(who
          ? [
              {
                do: 'post' as const,
                personId: who.id,
                what: { kind: 'run' as const, flow: 'unusable', caseId: m.case!.id, item, vars: {} },
              },
            ]
          : []),
      ];
    },
    'read-back-lapsed': (m) =>
      m.specimen?.readBack ? [record({ type: 'read-back-dropped', specimen: m.specimen.id, why: 'lapsed' })] : [],
    'thy1-reason': (m) => [
      record({ type: 'thy1-reason', specimen: m.specimen!.id, reason: String(m.answer) }),
      { do: 'notify', to: 'owner', text: 'laboratory.thy1-reason-for-worker', lane: 'notice' },
    ],
    'end-unusable': (m) => [record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' })],
    'end-not-found': (m) => [record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-found' })],
  },
  instants: resultValues.instants,
  values: resultValues.values,
};
