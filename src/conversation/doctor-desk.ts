/** How a doctor answers: `47 1`, `47 words`, and a bare digit only where it can but add care. */

import type { TextKey } from '../generated/text-keys.ts';
import { toAsciiDigits } from '../text/digits.ts';
import { foldWord } from '../text/fold.ts';
import { quotedWords } from '../text/one-line.ts';
import { answerWords, whenWords } from './answer-question.ts';
import { isAtTheNeedle } from './at-the-needle.ts';
import { endQuestion } from './end-question.ts';
import { frozenFor, frozenQuestion } from './frozen-question.ts';
import { countWrongDigits, lengthenTags } from './guesses.ts';
import { askingThread } from './interpret.ts';
import { choiceInWords } from './own-words.ts';
import { choicesOf, passOn, sayDone } from './pass-on.ts';
import { carrier, isAlarmAbout, reachable, waitsFor } from './people.ts';
import { durationOf } from './programme.ts';
import { isUndecided } from './promise.ts';
import { tagAndWords } from './question-tag.ts';
import { showQuestion } from './show-question.ts';
import { idleFrame, type Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** The question that this tag means to this doctor: the open one; a tag is given anew once its question is answered. */
export function questionByTag(turn: Turn, person: Person, tag: string): Question | null {
  const own = turn.questions.filter((one) => one.tag === tag && one.askedOf.includes(person.id));
  return own.find((one) => one.answeredAt === null) ?? own.at(-1) ?? null;
}

/** True: the text was an answer to a question of the ladder (or a failed try) and has been dealt with. */
export function readDoctorAnswer(turn: Turn, person: Person, text: string, networkAt: number | null): boolean {
  if (!person.roles.includes('doctor')) return false;
  const words = toAsciiDigits(text).trim();
  // A digit belongs to the question asked last: a conversation of the doctor's own is repeated after every escalation.
  const asking = askingThread(turn) !== null;
  const bare = /^\d$/.test(words) ? words : null;
  if (bare !== null) return !asking && answerLatest(turn, person, bare, networkAt);
  const found = tagAndWords(words);
  if (!found) return !asking && wordWithoutTag(turn, person, words);
  const { tag, rest } = found;
  const question = questionByTag(turn, person, tag);
  if (!question) {
    if (!looksTagged(tag, rest) || asking) return false;
    wrongTag(turn, person);
    return true;
  }
  if (rest === '' && asking) return false;
  if (question.answeredAt !== null) {
    turn.say(person, 'doctor.too-late', { frame: null, caseId: question.caseId, vars: { q: tag } });
    if (question.caseId && rest !== '') turn.record(question.caseId, { type: 'noted', words: `Q${tag} ${rest}` });
    return true;
  }
  if (rest === '') {
    showQuestion(turn, person, question.id);
    return true;
  }
  if (saysWord(turn, person, 'pass', rest)) {
    passOn(turn, person, question);
    return true;
  }
  if (saysWord(turn, person, 'done', rest)) {
    sayDone(turn, person, question);
    return true;
  }
  const digit = /^(\d)(?:\s+(.*))?$/s.exec(rest);
  const option = digit ? question.options.find((one) => one.reply === digit[1]) : undefined;
  if (digit && !option && !digit[2]) {
    turn.say(person, 'doctor.not-a-choice', {
      frame: null,
      caseId: question.caseId,
      vars: { q: tag, replies: question.options.map((one) => one.reply).join(', ') },
    });
    return true;
  }
  const inWords = digit ? null : choiceInWords(turn.world.texts, person.locale, question, rest);
  const chosen = option ?? question.options.find((one) => one.id === inWords?.id);
  if (chosen && !chosen.care && mustReleaseFirst(turn, person, question)) return true;
  if (chosen && wouldEndAtTheNeedle(turn, person, question, chosen)) return true;
  const beside = inWords ? inWords.words : option ? (digit?.[2] ?? '') : rest;
  settle(turn, person, question, chosen?.id ?? 'words', beside);
  return true;
}

/**
 * Words of a doctor without a tag while questions are open: nothing is taken, and which tag they need is said. False where
 * no question of this doctor's is open.
 */
export function sayTagFirst(turn: Turn, person: Person, words: string): boolean {
  const open = openOf(turn, person);
  const latest = open.find((one) => one.id === turn.state.lastQuestionId) ?? open.at(-1);
  if (!latest) return false;
  const caseId = open.length === 1 ? latest.caseId : null;
  const key = open.length === 1 ? 'doctor.tag-first' : 'doctor.tag-first-of-several';
  const list = open.map((one) => [`Q${one.tag}`, turn.caseOf(one.caseId)?.tag ?? ''].join(' ').trim());
  const vars = {
    q: latest.tag,
    lines: list.slice(-mostListed).join(', '),
    example: `${latest.tag} ${quotedWords(words, longestExample)}`,
  };
  turn.say(person, key, { frame: null, caseId, item: latest.item, vars });
  return true;
}

/** Questions and characters that a text about a missing tag shows: it is one screen. */
const mostListed = 4;
const longestExample = 30;

/** Open questions that this doctor was asked. */
function openOf(turn: Turn, person: Person): readonly Question[] {
  if (!person.roles.includes('doctor')) return [];
  return turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
}

/** True: the words after a tag are one of the desk's own words (`not me`, `done`). */
function saysWord(turn: Turn, person: Person, word: string, said: string): boolean {
  return turn.world.texts.words(person.locale, 'doctor-words', word).includes(foldWord(said.replace(/[.!]+$/, '')));
}

/** `not me` alone: which question is meant must be said. */
function wordWithoutTag(turn: Turn, person: Person, words: string): boolean {
  if (!saysWord(turn, person, 'pass', words) && !saysWord(turn, person, 'done', words)) return false;
  const open = openOf(turn, person);
  const meant = open.find((one) => one.id === turn.state.lastQuestionId) ?? open.at(-1);
  if (!meant) return false;
  turn.say(person, 'doctor.needs-tag', { frame: null, caseId: null, vars: { example: `${meant.tag} ${words}` } });
  return true;
}

function answerLatest(turn: Turn, person: Person, digit: string, networkAt: number | null): boolean {
  const own = openOf(turn, person);
  const question = own.find((one) => one.id === turn.state.lastQuestionId);
  if (!question) {
    const other = own.at(-1);
    if (!other) return false;
    turn.say(person, 'doctor.needs-tag', { frame: null, caseId: null, vars: { example: `${other.tag} ${digit}` } });
    return true;
  }
  if (wasSentBefore(turn, networkAt)) {
    turn.say(person, 'doctor.late-digit', { frame: null, caseId: question.caseId, vars: { q: question.tag } });
    return true;
  }
  const option = question.options.find((one) => one.reply === digit);
  if (option?.care) {
    settle(turn, person, question, option.id, '');
    return true;
  }
  turn.say(person, 'doctor.needs-tag', {
    frame: null,
    caseId: question.caseId,
    vars: { q: question.tag, example: `${question.tag} ${digit}` },
  });
  return true;
}

/** A bare digit that left the phone before the question was shown belongs to another one. */
function wasSentBefore(turn: Turn, networkAt: number | null): boolean {
  const { programme } = turn.world;
  const shownAt = turn.state.lastQuestionAt ?? null;
  if (networkAt === null || shownAt === null) return false;
  return networkAt < shownAt - durationOf(programme, 'network-before-ask');
}

/** Nothing that lets a frozen case go on counts before its release; what was taken back is answered anew, though. */
function mustReleaseFirst(turn: Turn, person: Person, question: Question): boolean {
  const of = turn.caseOf(question.caseId);
  const takenBack = /^answer-taken-back:([^:]+):/.exec(of?.frozen ?? '')?.[1] ?? null;
  if (!of || of.frozen === null || question.about === frozenQuestion.about || question.about === takenBack)
    return false;
  const open = turn.questions.find(
    (one) => one.caseId === of.id && one.about === frozenQuestion.about && one.answeredAt === null,
  );
  const asked = open ?? turn.openQuestion(frozenFor(of), of.id, null, '', { firstRung: person });
  if (!asked.askedOf.includes(person.id)) {
    turn.putQuestion({ ...asked, askedOf: [...asked.askedOf, person.id] });
    turn.post(person.id, { kind: 'ask-doctor', questionId: asked.id, rung: asked.rung }, { caseId: of.id });
  }
  turn.say(person, 'doctor.release-first', {
    frame: null,
    caseId: of.id,
    item: question.item,
    vars: { q: question.tag, example: `${asked.tag} 1` },
  });
  return true;
}

/** What is reported of a needle needs its case: it is not ended under the hands that are at it, and stays asked. */
function wouldEndAtTheNeedle(
  turn: Turn,
  person: Person,
  question: Question,
  chosen: Question['options'][number],
): boolean {
  const of = turn.caseOf(question.caseId);
  if (!of || question.about !== endQuestion.about || chosen.id !== 'close') return false;
  if (!isAtTheNeedle(turn.world.programme, of, turn.now)) return false;
  const vars = { q: question.tag, example: `${question.tag} ${chosen.reply}` };
  turn.say(person, 'end.at-needle', { frame: null, caseId: of.id, vars });
  return true;
}

function settle(turn: Turn, person: Person, question: Question, answer: string, words: string): void {
  turn.aboutCaseId = question.caseId;
  turn.answerQuestion(question.id, answer, words);
  const after = turn.questions.find((one) => one.id === question.id) ?? question;
  turn.state = { ...turn.state, lastAnswered: { ...after, answer } };
  releaseIfSame(turn, person, question, answer, words);
  const consequence = turn.registry.doctorAnswers.get(question.about);
  const frame = { ...idleFrame, item: question.item };
  if (consequence) {
    const moment = turn.moment(frame, question.caseId, person);
    turn.carryOut(consequence(moment, question, answer), frame, question.caseId);
  }
  const held = after.answeredAt === null ? after.promiseUntil : null;
  const where = {
    frame: null,
    caseId: question.caseId,
    item: question.item,
    vars: {
      q: question.tag,
      answer: answerWords(turn, person, question, answer, words),
      when: held === null ? '' : whenWords(turn, person, held),
      replies: choicesOf(turn, person, question),
    },
  };
  if (isHeardBySomebody(turn, question)) {
    turn.say(person, echoOf(question, answer, held !== null), where);
    return;
  }
  turn.say(person, 'doctor.noted-nobody', where);
  if (held !== null) turn.say(person, 'doctor.held-nobody', where);
}

/** False: nobody whom the answer is for is on the line. An alarm's answer reaches who raised it after STOP too. */
function isHeardBySomebody(turn: Turn, question: Question): boolean {
  const of = turn.caseOf(question.caseId);
  const to = waitsFor(turn.world, of, question);
  if ((isAlarmAbout(question.about) && to !== null) || of?.practice) return true;
  return (to !== null && reachable(to)) || (of !== null && carrier(turn.world, of) !== null);
}

/** How an answer is said back: taken down, in hand until a time, or words that leave the choice open. */
function echoOf(question: Question, answer: string, isHeld: boolean): TextKey {
  if (!isHeld) return 'doctor.noted';
  if (answer === 'words' && isUndecided(question)) return 'doctor.which-choice';
  return question.options.some((one) => !one.care) ? 'doctor.promised-decision' : 'doctor.promised';
}

/**
 * A question that was taken back froze its case. The same answer again lets it go on; another one does not undo what the
 * clinic began on the first, so the case stays frozen until a doctor releases it.
 */
function releaseIfSame(turn: Turn, person: Person, question: Question, answer: string, words: string): void {
  const of = turn.caseOf(question.caseId);
  const found = /^answer-taken-back:([^:]+):(.*)$/s.exec(of?.frozen ?? '');
  if (!of || found?.[1] !== question.about || question.about === frozenQuestion.about) return;
  if (found[2] === answer && answer !== 'words') {
    turn.record(of.id, { type: 'released' });
    return;
  }
  const asked = turn.openQuestion(frozenFor(of), of.id, null, '', { firstRung: person });
  const to = waitsFor(turn.world, of, question);
  const now = answerWords(turn, to ?? person, question, answer, words);
  const about = { caseId: of.id, item: question.item, vars: { answer: now } };
  // An answer that ends the case ends this question too: then nothing is frozen.
  const what = { kind: 'tell', key: 'people.replaced', ...about, lane: 'sos', questionId: asked.id } as const;
  if (to) turn.post(to.id, what, { caseId: of.id });
}

/** A tag and something behind it. A code or a size is none: long tags stand before one digit only. */
function looksTagged(tag: string, rest: string): boolean {
  return rest !== '' && (tag.length <= 3 || /^\d(\s|$)/.test(rest));
}

/**
 * True: this would have been an answer under a tag that no question has. Counted also while a question of the doctor's own
 * is open, where it is read as that question's answer first: an open question is no cover for guessing.
 */
export function guessesTag(person: Person, text: string): boolean {
  const found = person.roles.includes('doctor') ? tagAndWords(text) : null;
  return found !== null && looksTagged(found.tag, found.rest);
}

/** A tag that is nobody's, or not this doctor's: nothing changes; several in a day tell the coordinator and make tags longer. */
export function wrongTag(turn: Turn, person: Person): void {
  turn.say(person, 'doctor.wrong-tag', { frame: null, caseId: null });
  if (countWrongDigits(turn, person, 'tag')) lengthenTags(turn, person);
}
