/** A question of the ladder on a doctor's phone: in full the first time, later only as often as somebody can bear. */
import { longestQuoted, quotedWords } from '../text/one-line.ts';
import { optionWords } from '../text/option-words.ts';
import { screensOf } from '../text/screens.ts';
import { whenWords } from './answer-question.ts';
import { doctorToken } from './ask-token.ts';
import { withLongTag } from './guesses.ts';
import { showPictures } from './matters/pictures.ts';
import { durationOf, limitOf, siteOf } from './programme.ts';
import { inDaytime } from './schedule.ts';
import { idleFrame, type Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Questions that a doctor's state remembers. */
const mostShown = 8;

/** Texts about questions that a doctor's state remembers: the newest ones. */
const mostTold = 40;

/**
 * Shows a question to a doctor; one answered meanwhile is not shown. `again`: the ladder tells it once more because nobody
 * answered, which is kept short and rare unless somebody is in danger.
 */
export function showQuestion(turn: Turn, person: Person, questionId: string, again = false): void {
  const open = turn.questions.find((one) => one.id === questionId);
  if (!open || open.answeredAt !== null) return;
  const question = withLongTag(turn, open);
  for (const id of question === open ? [] : question.askedOf.filter((one) => one !== person.id)) {
    turn.post(id, { kind: 'ask-doctor', questionId, rung: question.rung }, { caseId: question.caseId });
  }
  const isNew = !turn.state.shownQuestions.includes(question.id);
  const isRepeat = again && !isNew && question === open && question.urgency !== 'now';
  if (isRepeat && !mayTellAgain(turn, person, question.id)) return;
  if (isNew) showPictures(turn, person, question);
  const vars = {
    q: question.tag,
    words: quotedWords(question.words, longestQuoted),
    urgency: question.urgency,
    question: question.id,
  };
  const frame = { ...idleFrame, item: question.item, vars };
  const text = turn.render(person, `doctor.${question.about}`, frame, question.caseId);
  const shown = screensOf(text, turn.caseOf(question.caseId)?.tag);
  const screens = shown.length;
  // On a button stands what the text says to this doctor: `I phone the clinic`, where the clinic reads `the doctor calls`.
  const said = optionWords(
    shown.at(-1) ?? '',
    question.options.map((one) => one.reply),
  );
  // Several screens are not told again: one line says what waits, and the tag alone brings them back.
  const isShort = isRepeat && screens > 1;
  const isAsked = turn.event.kind !== 'due';
  noteShown(turn, question, isAsked ? 0 : isShort ? 1 : screens);
  const about = turn.world.texts.render(person.locale, `doctor.about-${question.about}`, () => '');
  const short = {
    q: question.tag,
    about: /[?؟]$/u.test(about) ? about : `${about}.`,
    when: whenWords(turn, person, question.openedAt),
  };
  turn.say(person, isShort ? 'doctor.still-waits' : `doctor.${question.about}`, {
    frame: null,
    caseId: question.caseId,
    item: question.item,
    vars: isShort ? short : vars,
    lane: question.urgency === 'now' ? 'sos' : 'notice',
    first: isNew && question.urgency === 'now',
    subject: `question ${question.id}`,
    step: question.about,
    ask: {
      field: question.about,
      item: question.item,
      kind: 'choice',
      options: question.options.map((one) => ({
        reply: `${question.tag} ${one.reply}`,
        id: one.id,
        label: said.get(one.reply) ?? turn.world.texts.label(person.locale, question.about, one.id),
      })),
      token: doctorToken(question.id),
    },
  });
  turn.disturbed = true;
}

/** By day only, and at most the programme's number of texts about one question in the programme's time. */
function mayTellAgain(turn: Turn, person: Person, questionId: string): boolean {
  const { programme } = turn.world;
  if (inDaytime(turn.now, siteOf(programme, person.siteId).zone, programme.daytime) > turn.now) return false;
  const since = turn.now - durationOf(programme, 'question-again');
  const told = (turn.state.toldQuestions ?? []).filter((one) => one.id === questionId && one.at > since);
  return told.length < limitOf(programme, 'question-texts');
}

/** Remembers which question was shown last, for a bare digit, and how many texts nobody asked for were sent about it. */
function noteShown(turn: Turn, question: Question, texts: number): void {
  // However many screens a question has, somebody who does not answer is reminded once at least.
  const counted = Math.min(texts, limitOf(turn.world.programme, 'question-texts') - 1);
  const { shownQuestions, lastQuestionId, lastQuestionAt, toldQuestions = [] } = turn.state;
  const shown = shownQuestions.filter((id) => id !== question.id);
  const told = Array.from({ length: counted }, () => ({ id: question.id, at: turn.now }));
  turn.state = {
    ...turn.state,
    lastQuestionId: question.id,
    lastQuestionAt: lastQuestionId === question.id ? (lastQuestionAt ?? turn.now) : turn.now,
    shownQuestions: [...shown, question.id].slice(-mostShown),
    toldQuestions: [...toldQuestions, ...told].slice(-mostTold),
  };
}
