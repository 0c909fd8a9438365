/** END 48291354 words: a case is closed by hand, with its reason, by who may do it. */
import { answerOf, type Case } from '../../case/case.ts';
import { needleWasIn } from '../../case/parcel.ts';
import { foldWord } from '../../text/fold.ts';
import { longestQuoted, quotedWords } from '../../text/one-line.ts';
import { unreadable } from '../answers/answer.ts';
import { digitsBehind } from '../answers/confirmation.ts';
import { endQuestion } from '../end-question.ts';
import { endedByHand } from '../ended-by-hand.ts';
import { firstAskedAt } from '../first-asked.ts';
import { secretWidthOf } from '../guesses.ts';
import type { Interpreter } from '../interpret.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { carrier } from '../people.ts';
import { durationOf } from '../programme.ts';
import type { Turn } from '../turn.ts';
import { settleQuestion } from './close-question.ts';
import { caseByCode, codesIn, refuseCode, withoutCodes } from './codes.ts';

/** A coordinator ends what has not begun to matter: no needle, no gloves on, no danger sign, no referral, no alarm. */
function needsDoctor(of: Case): boolean {
  // A needle may be in, of which nothing was reported yet.
  const hasGlovesOn = of.status === 'sampling';
  const signs = answerOf(of, 'dangerSigns') ?? [];
  const isReferred = of.notSampled?.why.startsWith('referred') === true || of.decided?.decision.startsWith('refer');
  const isSign = signs.some((one) => one !== 'unknown') || of.decided?.decision === 'emergency-now';
  return needleWasIn(of) || hasGlovesOn || isSign || isReferred === true || of.sos !== null || of.frozen !== null;
}

/** Closed with the words, what was asked about it is over, and whoever carried it or was asked is told. */
function close(moment: Moment, words: string): readonly Act[] {
  const of = moment.case!;
  if (of.closed !== null) return [];
  const who = carrier(moment.world, of);
  const said = quotedWords(words, longestQuoted);
  const vars = { by: moment.person.name, words: said === '' ? '-' : said };
  const open = moment.questions.filter((one) => one.caseId === of.id && one.answeredAt === null);
  return [
    record({ type: 'noted', words: `END ${words}`.trim() }),
    record({ type: 'closed', outcome: endedByHand }),
    ...open.flatMap((one) => {
      // A question that waits for the day has reached no doctor yet.
      const wasAsked = firstAskedAt(moment.world.programme, one) <= moment.now;
      const ending = { now: moment.now, by: moment.person.id, answer: endedByHand };
      return settleQuestion(one, wasAsked ? { ...ending, tell: 'end.for-doctor', vars } : ending);
    }),
    ...(who
      ? [
          {
            do: 'post',
            personId: who.id,
            what: { kind: 'run', flow: 'ended', caseId: of.id, item: null, vars },
          } as const,
        ]
      : []),
  ];
}

function end(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  const begin = (caseId: string, words: string): void => {
    turn.post(person.id, { kind: 'run', flow: 'end', caseId, item: null, vars: { words } }, { caseId });
  };
  if (codes[0] !== undefined) {
    const of = caseByCode(turn, person, codes[0]);
    if (of) begin(of.id, withoutCodes(rest));
    else refuseCode(turn, person, codes[0]);
    return;
  }
  const [tag = '', ...words] = rest.split(/\s+/);
  const byNumber = listedAs(turn, tag);
  if (byNumber !== null) {
    begin(byNumber, words.join(' '));
    return;
  }
  const named = turn.world.briefs.filter((one) => foldWord(one.tag) === foldWord(tag));
  const [only] = named;
  if (only && named.length === 1) begin(only.id, words.join(' '));
  else {
    const key = wrong.length > 0 ? 'desk.wrong-code' : named.length > 1 ? 'end.several' : 'end.which';
    turn.say(person, key, { frame: null, caseId: null });
  }
}

/** `END 2 moved away`: the case of that number in the LIST sent a short while ago; null: there is none. */
function listedAs(turn: Turn, said: string): string | null {
  const { listed } = turn.state;
  if (!listed || !/^\d{1,2}$/.test(said)) return null;
  if (turn.now - listed.at > durationOf(turn.world.programme, 'forget-ask')) return null;
  return listed.ids[Number(said) - 1] ?? null;
}

export const endMatter: Matter = {
  commands: { END: { roles: ['coordinator', 'doctor'], everyday: true, run: end } },
  doctorAnswers: {
    end: (m, question, answer) => (answer === 'close' ? close(m, question.words) : []),
  },
  decisions: {
    'may-end': {
      outcomes: ['ours', 'doctor', 'asked', 'closed'],
      decide: (m) => {
        if (m.case!.closed !== null) return 'closed';
        if (m.person.roles.includes('coordinator') && !needsDoctor(m.case!)) return 'ours';
        const isAsked = m.questions.some(
          (one) => one.caseId === m.case!.id && one.about === 'end' && one.answeredAt === null,
        );
        return isAsked ? 'asked' : 'doctor';
      },
    },
  },
  recorders: {
    'end-digits': (m) => [{ do: 'vars', vars: { digits: m.draw.digits(secretWidthOf(m)) } }],
    'end-wrong': () => [{ do: 'wrong-digits' }],
    'end-case': (m) => close(m, String(m.frame.vars.words ?? '')),
    'note-end': (m) => [record({ type: 'noted', words: `END ${String(m.frame.vars.words ?? '')}`.trim() })],
    'ask-end': (m) => [{ do: 'question', question: endQuestion, words: String(m.frame.vars.words ?? '') }],
    'end-threads-here': (m) => [{ do: 'end-threads', caseId: m.case!.id, traits: {}, keepsOwn: true }],
  },
  values: { digits: { of: (m) => String(m.frame.vars.digits ?? ''), sample: '4718', fromVar: true } },
  readers: {
    'end-digits': (text, m) => {
      const said = foldWord(text);
      const word = m.world.texts.keyword(m.person.locale, /^\p{L}*/u.exec(said)![0]);
      if (said === '0' || (word === 'NO' && !/\s|\d/u.test(said))) {
        return { ok: true, value: { value: 'no', outcome: 'dropped', exact: true } };
      }
      const digits = word === 'YES' ? digitsBehind(said) : null;
      if (digits === null) return unreadable('not-understood');
      const isRight = digits === m.frame.vars.digits;
      return { ok: true, value: { value: 'yes', outcome: isRight ? 'answered' : 'wrong', exact: true } };
    },
  },
};
