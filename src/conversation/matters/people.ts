/** Who is on the line: joining, leaving, coming back, taking a case over, and "that was not me". */

import { roles } from '../../case/roles.ts';
import { channelFacts } from '../channel-facts.ts';
import { wrongTag } from '../doctor-desk.ts';
import { frozenFor, frozenQuestion } from '../frozen-question.ts';
import type { Interpreter } from '../interpret.ts';
import type { Matter, Moment } from '../moment.ts';
import { takeQuestion } from '../pass-on.ts';
import { carrier, personById, reachable, waitsFor } from '../people.ts';
import { practise } from '../practise.ts';
import { durationOf } from '../programme.ts';
import { isPromise } from '../promise.ts';
import { tagAlone } from '../question-tag.ts';
import { resume } from '../resume.ts';
import type { Question } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { caseByCode, codesIn, refuseCode } from './codes.ts';
import { askToFreeze } from './freeze.ts';
import { stop } from './stop.ts';

function join(turn: Turn, interpreter: Interpreter): void {
  if (interpreter.person.practised) {
    turn.say(interpreter.person, 'join.already', { frame: null, caseId: null });
    turn.disturbed = true;
  } else practise(turn, interpreter);
}

/** `TAKE 47`: a colleague's question. True: it was meant so, found or not. */
function takesQuestion(turn: Turn, person: Person, rest: string): boolean {
  const tag = tagAlone(rest);
  if (tag === null) {
    if (person.roles.includes('worker')) return false;
    turn.say(person, 'doctor.take-how', { frame: null, caseId: null });
    return true;
  }
  if (!takeQuestion(turn, person, tag)) wrongTag(turn, person);
  return true;
}

/** Any worker of the case's site may carry it on. */
function take(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  turn.disturbed = true;
  if (person.roles.includes('doctor') && takesQuestion(turn, person, rest)) return;
  const { codes, wrong } = codesIn(rest);
  const code = codes[0];
  if (code === undefined) {
    turn.say(person, wrong.length > 0 ? 'desk.wrong-code' : 'people.which-code', { frame: null, caseId: null });
    return;
  }
  const of = caseByCode(turn, person, code);
  if (!of || of.siteId !== person.siteId || of.closed !== null) {
    refuseCode(turn, person, code);
    return;
  }
  turn.aboutCaseId = of.id;
  const item = of.specimens.find((one) => one.code === code)?.id ?? null;
  if (of.ownerId === person.id) {
    turn.say(person, 'people.own-already', { frame: null, caseId: of.id, item });
    resume(turn, interpreter, of);
    return;
  }
  const before = personById(turn.world, of.ownerId);
  turn.record(of.id, { type: 'taken-over', ownerId: person.id });
  // Who has left the line is told nothing, and it is not said that they are.
  const hasLeft = before !== null && !reachable(before);
  const key = hasLeft ? 'people.given' : 'people.taken';
  turn.say(person, key, { frame: null, caseId: of.id, item, vars: { who: before?.name ?? '' } });
  if (!before) return;
  turn.post(before.id, { kind: 'hand-over', caseId: of.id, to: person.id }, { caseId: of.id });
  if (hasLeft) return;
  turn.post(
    before.id,
    { kind: 'tell', key: 'people.taken-from-you', caseId: of.id, item, vars: { who: person.name }, lane: 'notice' },
    { caseId: of.id },
  );
}

/**
 * A doctor's answer was not the doctor's: the same question comes to the same doctor with a new tag, and whoever acted on
 * the answer is told. In an alarm nobody is told to stop: first aid goes on, and nothing is frozen.
 */
function takeBack(turn: Turn, person: Person, taken: Question): void {
  const alarm = taken.urgency === 'now';
  // A promise let nobody do anything: it is taken back, and nothing needs to stop.
  const promised = isPromise(taken, taken.answer ?? '');
  const closed = turn.caseOf(taken.caseId)?.closed != null;
  const of = turn.caseOf(taken.caseId);
  const acting = [waitsFor(turn.world, of, taken), of ? carrier(turn.world, of) : null].filter((one) => one !== null);
  const said = alarm
    ? 'people.wrong-again-alarm'
    : promised
      ? 'people.wrong-again-promise'
      : closed
        ? 'people.wrong-again-closed'
        : 'people.wrong-again';
  const isHeard = acting.length > 0;
  const key = isHeard ? said : 'people.wrong-again-nobody';
  turn.say(person, key, { frame: null, caseId: taken.caseId, item: taken.item });
  if (of && !alarm && !closed && !promised)
    turn.record(of.id, { type: 'frozen', why: `answer-taken-back:${taken.about}:${taken.answer}` });
  for (const id of new Set(acting.flatMap((one) => (one.id !== person.id ? [one.id] : [])))) {
    const key = alarm
      ? 'people.hold-alarm'
      : promised
        ? 'people.hold-promise'
        : closed
          ? 'people.hold-closed'
          : of?.status === 'sampling'
            ? 'people.hold-needle'
            : 'people.hold';
    const what = { kind: 'tell', key, caseId: taken.caseId, item: taken.item, vars: {}, lane: 'sos' } as const;
    turn.post(id, what, { caseId: taken.caseId });
  }
  // What is closed is not opened again by text: the clinic begins anew, and a human hears of it.
  if (of && closed && !promised && isHeard)
    turn.notify('coordinators', 'people.closed-wrongly', 'notice', of.id, taken.item, {});
  if (!isHeard && !of?.practice) {
    const vars = { who: person.name };
    turn.notify('coordinators', 'people.taken-back-nobody-there', 'notice', taken.caseId, taken.item, vars);
  }
  // Held by a promise, it is still open: it ends here, and comes again under a new tag.
  const open = turn.questions.find((one) => one.id === taken.id);
  if (open?.answeredAt === null) {
    turn.putQuestion({
      ...open,
      answeredAt: turn.now,
      answeredBy: person.id,
      answer: 'taken-back',
      promiseUntil: null,
    });
  }
  const spec = { urgency: taken.urgency, about: taken.about, options: taken.options };
  const instead = taken.instead ?? taken.id;
  turn.openQuestion(spec, taken.caseId, taken.item, taken.words, {
    firstRung: person,
    // It may have gone on to a colleague with its alarm since.
    askedBy: (open ?? taken).askedBy,
    instead,
  });
  turn.state = { ...turn.state, lastAnswered: null };
}

/** The answer that this doctor gave last, unless somebody else has answered since. */
function lastAnswer(turn: Turn, person: Person): Question | null {
  const last = turn.state.lastAnswered;
  const now = turn.questions.find((one) => one.id === last?.id);
  return now && now.answeredBy !== person.id ? null : last;
}

/** "That was not me": nothing goes on until a doctor has looked. A doctor's last answer is taken back. */
function wrong(turn: Turn, interpreter: Interpreter): void {
  const person = interpreter.person;
  const taken = lastAnswer(turn, person);
  if (person.roles.includes('doctor') && taken) {
    takeBack(turn, person, taken);
    return;
  }
  const caseId =
    turn.state.lastCaseId ?? [...turn.threads].reverse().find((one) => one.caseId !== null)?.caseId ?? null;
  const of = turn.caseOf(caseId);
  if (!of || of.closed !== null) {
    turn.say(person, 'people.wrong-nothing', { frame: null, caseId: null });
    turn.disturbed = true;
    return;
  }
  // Who works at the clinic may only have mistyped: it is said first what the word does.
  if (of.frozen === null && person.roles.includes('worker')) {
    askToFreeze(turn, interpreter, of);
    return;
  }
  const asked = turn.questions.some(
    (one) => one.caseId === of.id && one.about === frozenQuestion.about && one.answeredAt === null,
  );
  if (of.frozen === null) turn.record(of.id, { type: 'frozen', why: 'wrong' });
  if (!asked) turn.openQuestion(frozenFor(of), of.id, null);
  turn.say(person, 'people.wrong', { frame: null, caseId: of.id });
}

/** Who pays for what this person sends: as the programme reckons, or not known. */
function paysKey({ world, person }: Moment): 'pays-programme' | 'pays-you' | 'pays-network' {
  const { price } = world.programme;
  const isPaid =
    person.addresses[0] !== undefined && channelFacts(person.addresses[0].channel).address === 'phone-number';
  if (!price || !isPaid) return 'pays-network';
  return price.perSegmentIn > 0 ? 'pays-programme' : 'pays-you';
}

export const people: Matter = {
  commands: {
    STOP: { roles, run: stop },
    START: { roles, run: join },
    JOIN: { roles, run: join },
    TAKE: { roles: ['worker', 'doctor'], run: take },
    WRONG: { roles: ['worker', 'doctor', 'lab'], run: wrong },
  },
  decisions: {
    practised: {
      outcomes: ['right', 'wrong'],
      decide: (m) => {
        const said = Array.isArray(m.answer) ? m.answer : [];
        return said.length === 2 && said.includes('second') && said.includes('third') ? 'right' : 'wrong';
      },
    },
  },
  recorders: {
    practised: (m) => [{ do: 'people', change: { kind: 'put-person', person: { ...m.person, practised: true } } }],
  },
  doctorAnswers: {
    wrong: (m, _question, answer) =>
      answer === 'release' && m.case ? [{ do: 'record', event: { type: 'released' } }] : [],
  },
  values: {
    frozenWhy: {
      of: (m) => {
        const frozen = m.case?.frozen ?? '';
        const lost = frozen === 'phone-lost' ? 'why-lost' : 'why-wrong';
        const bad = frozen.startsWith('bad-after-result:') ? 'why-bad-after-result' : lost;
        const key = frozen.startsWith('answer-taken-back:') ? 'why-taken-back' : bad;
        return m.world.texts.render(m.person.locale, `people.${key}`, () => '');
      },
      sample: 'somebody says a message was not theirs',
    },
    joinHours: {
      of: (m) => String(durationOf(m.world.programme, 'join-number') / 3_600_000),
      sample: '72',
    },
    keyword: { of: (m) => m.world.programme.keyword ?? '', sample: 'NECKLINE2030' },
    whoPays: {
      of: (m) => m.world.texts.render(m.person.locale, `people.${paysKey(m)}`, () => ''),
      sample: 'The programme pays for your texts.',
    },
    programme: { of: (m) => m.world.programme.name, sample: 'Tamboro thyroid line' },
  },
};
