/** The words that belong to an open alarm alone: SAME, WORSE, GOING 4718, WELL 5102, CANNOT. Understood whatever else is asked. */
import { toAsciiDigits } from '../text/digits.ts';
import { foldWord } from '../text/fold.ts';
import { quotedWords } from '../text/one-line.ts';
import { alarmDigits, digitsOf } from './alarm-digits.ts';
import { countWrongDigits, secretWidth } from './guesses.ts';
import { type AlarmAnswer, type AlarmWords, provenAnswers } from './hearing/alarm-words.ts';
import { bareWords, saysFreely, saysUndenied } from './hearing/cry.ts';
import { type Interpreter, stateOf, topFrame } from './interpret.ts';
import { isLate } from './late.ts';
import { openAlarms } from './open-alarm.ts';
import { networkAtOf } from './parts.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** What a text says to an alarm. `sos`: its letter alone. */
interface Said {
  readonly answer: AlarmAnswer | 'sos';
  readonly digits: string;
}

/** Words of a text that are repeated to its sender, characters. */
const mostSaid = 20;

/** Option by which a flow knows each answer. */
const optionOf: Readonly<Record<'same' | 'worse' | 'going' | 'well' | 'cannot', readonly string[]>> = {
  same: ['same'],
  worse: ['worse'],
  going: ['handed-over', 'on-the-way'],
  well: ['better'],
  cannot: ['cannot-go'],
};

/**
 * True: the text was for an open alarm and has been dealt with. `elsewhere`: it is an exact answer to another open question,
 * so that what lacks its digits is left to that one.
 */
export function answerAlarm(turn: Turn, interpreter: Interpreter, text: string, elsewhere: boolean): boolean {
  const alarms = openAlarms(turn);
  if (alarms.length === 0) return false;
  const { tag, rest } = withoutTag(turn, alarms, text);
  const { locale } = interpreter.person;
  const said = readSaid(rest, turn.world.texts.alarmWords(locale));
  if (!said) return false;
  // That it is worse is heard in any text, and GONE is asked back here.
  if (said.answer !== 'worse' && said.answer !== 'gone' && isCommand(turn, locale, rest, said)) return false;
  const thread = alarms.findLast((one) => isMeant(turn, one, tag, said)) ?? alarms.at(-1)!;
  if (said.answer === 'sos') {
    interpreter.raise(thread.id);
    turn.registry.commands.get('SOS')?.run(turn, interpreter, '');
    return true;
  }
  if (said.answer === 'fine') return false;
  const proven = !provenAnswers.has(said.answer) || proves(thread, said);
  if (!proven && elsewhere) return false;
  turn.aboutCaseId = thread.caseId;
  if (said.answer === 'gone') {
    turn.say(interpreter.person, 'sos.gone-asked', { frame: topFrame(thread), caseId: thread.caseId, lane: 'sos' });
    return true;
  }
  if (!proven) {
    if (said.digits !== '' && countWrongDigits(turn, interpreter.person, 'secret')) lengthen(turn, interpreter, thread);
    repeatAlarm(turn, interpreter, interpreter.thread(thread.id) ?? thread, rest);
    return true;
  }
  // That it is worse, or that they go, counts whenever it was written; that nothing changed does not.
  if (said.answer === 'same' && thread.ask && isLate(turn, thread.ask, networkAtOf(turn.event))) {
    turn.say(interpreter.person, 'common.late-answer', { frame: null, caseId: thread.caseId });
    interpreter.raise(thread.id);
    interpreter.show(thread.id);
    return true;
  }
  if (!take(turn, interpreter, thread, said.answer)) repeatAlarm(turn, interpreter, thread, rest);
  return true;
}

/** Nothing was understood: said so, and how the patient is asked in full, every answer with its word; between two checks too. */
export function repeatAlarm(turn: Turn, interpreter: Interpreter, thread: Thread, text: string): void {
  const { person } = interpreter;
  const options = { frame: topFrame(thread), caseId: thread.caseId, lane: 'sos' as const };
  const vars = { said: quotedWords(text, mostSaid) };
  turn.say(person, 'sos.not-read', { ...options, vars, step: 'unreadable' });
  if (thread.ask) {
    interpreter.raise(thread.id);
    interpreter.show(thread.id);
  } else turn.say(person, 'sos.how', options);
}

function take(turn: Turn, interpreter: Interpreter, thread: Thread, answer: keyof typeof optionOf): boolean {
  const frame = topFrame(thread)!;
  const option = optionOf[answer].find((one) => stateOf(turn, frame)?.ask?.options.some((each) => each.id === one));
  const transition = option ?? `alarm.${answer}`;
  if (!interpreter.has(frame, transition)) return false;
  const ask = stateOf(turn, frame)?.ask ?? null;
  turn.state = { ...turn.state, misses: 0, previousAskAt: thread.ask?.askedAt ?? turn.state.previousAskAt };
  turn.answer = option ?? answer;
  if (option !== undefined && thread.caseId !== null && ask && !ask.unrecorded) {
    const event = { type: 'answered', field: ask.field, item: null, value: option } as const;
    turn.record(thread.caseId, event, `${frame.flow}@${frame.hash}`);
  }
  interpreter.put({ ...thread, ask: null });
  interpreter.raise(thread.id);
  interpreter.take(thread.id, transition);
  turn.answer = null;
  if (!interpreter.thread(thread.id)?.ask) turn.disturbed = true;
  return true;
}

/** Somebody tries digits: this alarm's are longer from now on, and what was guessed so far is worth nothing. */
function lengthen(turn: Turn, interpreter: Interpreter, thread: Thread): void {
  const frame = topFrame(thread)!;
  const digits = alarmDigits(turn.draw, frame.vars, secretWidth(turn));
  const vars = { ...frame.vars, ...digits };
  interpreter.put({ ...thread, frames: [...thread.frames.slice(0, -1), { ...frame, vars }] });
}

/** The digits of this alarm, or those of its question as it was shown. */
function proves(thread: Thread, said: Said): boolean {
  if (said.digits === '') return false;
  const own = digitsOf(topFrame(thread)!.vars, said.answer);
  const options: readonly string[] = said.answer === 'going' ? optionOf.going : optionOf.well;
  const shown = thread.ask?.options.find((one) => options.includes(one.id))?.reply ?? '';
  return said.digits === own || (own === '' && said.digits === shown.replace(/\D/g, ''));
}

/** By its tag, by its digits, or the last one. */
function isMeant(turn: Turn, thread: Thread, tag: string | null, said: Said): boolean {
  if (tag !== null) return tagOf(turn, thread) === tag;
  return said.digits === '' || proves(thread, said);
}

export function tagOf(turn: Turn, thread: Thread): string {
  return foldWord(turn.caseOf(thread.caseId)?.tag ?? '');
}

/** `DOCTOR is she well`: a command with words of its own; `no transport` is none. */
function isCommand(turn: Turn, locale: string, text: string, { answer }: Said): boolean {
  const keyword = turn.world.texts.keyword(locale, firstWord(text));
  return keyword !== null && !(keyword === 'NO' && answer === 'cannot');
}

/** What a text without a command says in the words of an alarm, and whether it says nothing else. A letter alone means that only while one is open. */
export function saidOfPatient(
  turn: Turn,
  { locale }: Person,
  text: string,
): { readonly answer: AlarmAnswer; readonly alone: boolean } | null {
  const languages = turn.world.texts.alarmWords(locale);
  const said = text.trim().length < 2 ? null : readSaid(text, languages);
  if (!said || said.answer === 'sos' || isCommand(turn, locale, text, said)) return null;
  const { answer } = said;
  const alone = languages.some((one) => one.answers[answer].includes(bareWords(text, one).join(' ')));
  return { answer, alone };
}

function firstWord(text: string): string {
  return foldWord(/^\s*([^\s,;:]+)/u.exec(text)?.[1] ?? '');
}

/** A tag in front names the alarm: `AK WORSE`. */
export function withoutTag(
  turn: Turn,
  alarms: readonly Thread[],
  text: string,
): { readonly tag: string | null; readonly rest: string } {
  const found = /^\s*([\p{L}\p{N}]+)[\s:,.-]+(\S.*)$/su.exec(text);
  const first = foldWord(found?.[1] ?? '');
  const known = first !== '' && alarms.some((one) => tagOf(turn, one) === first);
  return known ? { tag: first, rest: found![2]! } : { tag: null, rest: text };
}

function readSaid(text: string, languages: readonly AlarmWords[]): Said | null {
  for (const language of languages) {
    const said = readIn(text, language);
    if (said) return isDenied(text, said, language, languages) ? null : said;
  }
  return null;
}

/** `not well 5102`: the digits alone end no alarm, in whatever language it is denied. */
function isDenied(text: string, { answer }: Said, language: AlarmWords, languages: readonly AlarmWords[]): boolean {
  if (answer === 'sos' || !provenAnswers.has(answer)) return false;
  return languages.some((one) => !saysFreely(text, language.answers[answer], one, one.answers.cannot));
}

function readIn(text: string, language: AlarmWords): Said | null {
  const words = foldWord(toAsciiDigits(text))
    .split(/[^\p{L}\p{N}]+/u)
    .filter((one) => one !== '');
  const letter = words.length === 1 ? words[0]! : '';
  if (language.letters.sos.includes(letter)) return { answer: 'sos', digits: '' };
  if (language.letters.worse.includes(letter)) return { answer: 'worse', digits: '' };
  if (saysUndenied(text, language.answers.worse, language)) return { answer: 'worse', digits: '' };
  const digits = words.filter((one) => /^\d+$/.test(one)).join('');
  const whole = words.filter((one) => !/^\d+$/.test(one)).join(' ');
  const bare = bareWords(text, language).join(' ');
  const { answers } = language;
  const says = (answer: AlarmAnswer): boolean => answers[answer].some((one) => one === whole || one === bare);
  for (const answer of ['going', 'well'] as const) {
    if (answers[answer].includes(whole)) return { answer, digits };
    // `not yet well 5102`: the digits alone end no alarm.
    if (digits !== '' && saysFreely(text, answers[answer], language, answers.cannot)) return { answer, digits };
  }
  // `cannot go 4718`: the digits of the way there, by somebody who has none.
  const triesToGo = digits !== '' && answers.going.some((one) => ` ${whole} `.includes(` ${one} `));
  if (triesToGo && saysUndenied(text, answers.cannot, language)) return { answer: 'cannot', digits: '' };
  for (const answer of ['same', 'cannot', 'gone', 'fine'] as const) {
    if (says(answer) && digits === '') return { answer, digits };
  }
  return null;
}
