/** A text from somebody of the roster. */

import { asJson } from '../case/stored.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { toAsciiDigits } from '../text/digits.ts';
import { foldWord } from '../text/fold.ts';
import { longestQuoted, onOneLine, quotedWords } from '../text/one-line.ts';
import { isOpenAlarm } from './alarm-digits.ts';
import { answerAlarm } from './answer-alarm.ts';
import { answerElsewhere, goTo } from './answer-elsewhere.ts';
import { answerByTag, answerOf, type Read } from './answer-of.ts';
import { isBetweenPatients } from './between-patients.ts';
import { countHeard } from './daily.ts';
import { guessesTag, readDoctorAnswer, sayTagFirst } from './doctor-desk.ts';
import { isDouble, taken } from './double.ts';
import type { LineEvent } from './event.ts';
import { exitCommand } from './exits.ts';
import type { FlowState } from './flow.ts';
import { isFrozen, sayFrozen } from './frozen.ts';
import { countWrongDigits, lengthenTags } from './guesses.ts';
import { alarmHeard, hearAlarm } from './hear-alarm.ts';
import { cryIn } from './hearing/cry.ts';
import { askingThread, Interpreter, stateOf, topFrame } from './interpret.ts';
import { isLate } from './late.ts';
import { explainsWord } from './matters/other-words.ts';
import { hearPicture, mayAskDoctor, refuseAlbum } from './matters/pictures.ts';
import { endCry } from './matters/raise-alarm.ts';
import { confirmsStop } from './matters/stop.ts';
import { isCopiedOn, notRead } from './not-read.ts';
import { saysNextCheck } from './open-alarm.ts';
import { giveUp, joinPart, withNeighbours } from './parts.ts';
import { asksPractice } from './practice-word.ts';
import { durationOf } from './programme.ts';
import type { Answer } from './reading.ts';
import type { Thread } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';
import { sayNoted, sayOpenQuestion, sayWhatWaits } from './what-waits.ts';
import type { Person } from './world.ts';

/** Longest text that is read, characters; longer ones are kept and answered with a hint. */
export const longestText = 1600;

/**
 * What the text was sent as a reply to: nothing; the question of the thread that asks now; a question that is no longer
 * open, so that it answers none; a doctor's question, by its tag.
 */
export type Quote = 'nothing' | 'question' | 'old-question' | { readonly tag: string };

/** Handles one text of a joined person. */
export function hearText(
  turn: Turn,
  person: Person,
  sent: string,
  networkAt: number | null,
  quote: Quote = 'nothing',
): void {
  // One line, whatever was sent: words that reach somebody else cannot begin a text of their own.
  const text = onOneLine(sent);
  const interpreter = new Interpreter(turn, person);
  const asking = askingThread(turn);
  const current = asking ?? turn.threads.at(-1) ?? null;
  turn.aboutCaseId = current?.caseId ?? null;
  turn.state = { ...turn.state, lastInAt: turn.now };
  countHeard(turn, person);
  const words = foldWord(text);
  const say = (key: TextKey, vars: Record<string, string> = {}): void => {
    turn.say(person, key, { frame: null, caseId: current?.caseId ?? null, vars });
  };

  if (words === 'stop') {
    turn.registry.commands.get('STOP')?.run(turn, interpreter, '');
    return;
  }
  if (confirmsStop(turn, interpreter, text)) return;
  const direct = asking && quote !== 'old-question' ? answerOf(turn, interpreter, asking, text) : null;
  const alarm = hearAlarm(turn, interpreter, text, isPlainAnswer(turn, person, asking, direct, text));
  if (alarm === 'dealt-with') return;
  // A question to the doctor is asked all the same; anything else waits until it is known how the patient is.
  if (alarm === 'first-aid' && !isForDoctor(turn, person, asking, text)) return;
  if (words === '') {
    say('common.empty');
    return;
  }
  if (text.length > longestText) {
    say('common.too-long');
    return;
  }
  // What answers the question asked now as it stands is no answer by tag: a patient may be called `L`, and a side is.
  const named = quote === 'nothing' && direct?.kind !== 'exact' ? answerByTag(turn, interpreter, text) : null;
  if (named) {
    goTo(turn, interpreter, named.thread);
    accept(turn, interpreter, person, named.thread, named.text, networkAt, named.answer, true);
    return;
  }
  const isFree = asking?.ask?.kind === 'text' && direct?.kind === 'read';
  if (direct?.kind !== 'exact' && explainsWord(turn, interpreter, asking, text, isFree)) return;
  if (quote === 'nothing' && readDoctorAnswer(turn, person, text, networkAt)) return;
  const isCommand = commandIn(turn, person, text)?.alone === true;
  if (typeof quote === 'object' && !isCommand && readDoctorAnswer(turn, person, `${quote.tag} ${text}`, null)) return;

  const exactly = (thread: Thread): Answer | null => {
    const read = thread.id === asking?.id ? direct : answerOf(turn, interpreter, thread, text);
    return read?.kind === 'exact' ? read.answer : null;
  };
  const elsewhere = quote === 'nothing' ? answerElsewhere(turn, asking, text, exactly) : null;
  if (elsewhere?.kind === 'several') {
    const [tag = '', other = ''] = elsewhere.tags.filter((one) => one !== '');
    const key: TextKey = other === '' ? 'common.of-which-one' : 'common.of-which';
    say(key, { words: quotedWords(text, longestQuoted), oneTag: tag, otherTag: other });
    return;
  }
  if (elsewhere) {
    goTo(turn, interpreter, elsewhere.thread);
    accept(turn, interpreter, person, elsewhere.thread, text, networkAt, elsewhere.answer, true);
    return;
  }
  if (asking && direct?.kind === 'exact') {
    accept(turn, interpreter, person, asking, text, networkAt, direct.answer);
    return;
  }
  const isForTag = !asking && quote === 'nothing' && commandIn(turn, person, text) === null && !/^\s*[?*]/.test(text);
  const unasked = turn.registry.commands.get('WORDS');
  const mayUse = unasked?.roles.some((role) => person.roles.includes(role)) === true;
  if (isForTag && !mayUse && sayTagFirst(turn, person, text)) return;
  // `no danger` denies, and is no command: that it is said by its number here comes back.
  if (asking && quote !== 'old-question' && direct?.kind === 'unreadable' && direct.reason === 'own-none') {
    notRead(turn, person, asking, text, direct.reason);
    return;
  }
  const mayObey = quote !== 'old-question' || (isCommand && !isReply(turn, person, text));
  if (mayObey && !isFreeAnswer(turn, person, asking, direct, text) && obey(turn, interpreter, person, text)) {
    turn.state = { ...turn.state, misses: 0 };
    return;
  }
  if (quote === 'old-question') {
    say('common.old-quote');
    turn.disturbed = true;
    return;
  }
  if (asking && mayUse && unasked?.claims?.(text) === true) {
    unasked.run(turn, interpreter, text);
    return;
  }
  if (asking && direct?.kind === 'read') {
    accept(turn, interpreter, person, asking, text, networkAt, direct.answer);
    return;
  }
  if (asking && direct?.kind === 'unreadable') {
    if (guessesDigits(turn, person, asking, text)) {
      guessed(turn, interpreter, person, asking, text);
      return;
    }
    notRead(turn, person, asking, text, direct.reason);
    return;
  }
  // It answers an earlier question, which is asked anew behind this.
  if (asking?.ask?.moved) return;
  if (mayUse) {
    unasked?.run(turn, interpreter, text);
    return;
  }
  if (isCopiedOn(turn, person, text, current?.caseId ?? null) || saysNextCheck(turn, person)) return;
  if (person.practised && sayWhatWaits(turn, interpreter)) return;
  say(person.practised ? 'common.nothing-open' : 'common.not-practised');
}

/** Something that is no whole text: said so, nothing is changed. The word SOS is heard in it all the same. */
export function hearUnreadable(turn: Turn, person: Person, event: LineEvent & { readonly kind: 'unreadable' }): void {
  const { why, part, picture, album } = event;
  // The word may be cut by the end of a part, and other parts never come.
  const alone = alarmHeard(turn, person, event.text);
  const text = part && alone === null ? withNeighbours(turn, part, event.text) : event.text;
  const heard = alone ?? alarmHeard(turn, person, text);
  if (heard === 'sos' || heard === 'now') {
    if (part) giveUp(turn, part);
    hearText(turn, person, text, null);
    return;
  }
  if (part) {
    turn.state = { ...turn.state, lastInAt: turn.now };
    const whole = joinPart(turn, person, part, event.text);
    if (whole) hearText(turn, person, whole.text, whole.networkAt);
    return;
  }
  if (heard === 'soon') {
    hearText(turn, person, text, null);
    return;
  }
  turn.state = { ...turn.state, lastInAt: turn.now };
  countHeard(turn, person);
  turn.disturbed = true;
  const sent = { channel: event.from.channel, words: text, ...(album === undefined ? {} : { album }) };
  if (picture && hearPicture(turn, person, { ...sent, file: picture.file })) return;
  refuseAlbum(turn, album);
  const only = why === 'picture' && turn.world.programme.pictures === 'to-doctor' && mayAskDoctor(turn, person);
  const key: TextKey = only ? 'common.photo-only' : `common.unreadable-${why}`;
  turn.say(person, key, { frame: null, caseId: askingThread(turn)?.caseId ?? null });
}

/** A reply that can be meant for the open question of this thread only: a button was tapped. */
export function hearAnswer(turn: Turn, person: Person, asking: Thread, reply: string): void {
  const interpreter = new Interpreter(turn, person);
  turn.aboutCaseId = asking.caseId;
  turn.state = { ...turn.state, lastInAt: turn.now };
  if (isOpenAlarm(turn, topFrame(asking)) && answerAlarm(turn, interpreter, reply, false)) return;
  const read = answerOf(turn, interpreter, asking, reply);
  if (read === null || read.kind === 'unreadable')
    notRead(turn, person, asking, reply, read?.reason ?? 'not-an-option');
  else accept(turn, interpreter, person, asking, reply, null, read.answer, true);
}

/** Digits or words of the open question's own options: what they say is that answer and no cry. */
function isPlainAnswer(turn: Turn, person: Person, asking: Thread | null, direct: Read | null, text: string): boolean {
  const ask = asking ? stateOf(turn, topFrame(asking)!)?.ask : null;
  if (!ask || direct?.kind !== 'exact') return false;
  if (ask.reader === null && (ask.kind === 'choice' || ask.kind === 'choices')) return true;
  // A reader may be lenient with the words around: only an option's own words are that answer for sure.
  const said = foldWord(text);
  return ask.options.some((one) => turn.world.texts.words(person.locale, ask.field, one.id).includes(said));
}

/** Free words that the doctor will read. */
function isForDoctor(turn: Turn, person: Person, asking: Thread | null, text: string): boolean {
  const first = foldWord(/^\s*([^\s,;:]+)/u.exec(text)?.[1] ?? '');
  return asking?.ask?.kind === 'text' || turn.world.texts.keyword(person.locale, first) === 'DOCTOR';
}

function accept(
  turn: Turn,
  interpreter: Interpreter,
  person: Person,
  asking: Thread,
  text: string,
  networkAt: number | null,
  answer: Answer,
  isNamed = false,
): void {
  const ask = asking.ask!;
  const frame = topFrame(asking)!;
  const state = stateOf(turn, frame)!;
  if (!provesItself(state, answer, text) && isLate(turn, ask, networkAt)) {
    turn.say(person, 'common.late-answer', { frame: null, caseId: asking.caseId });
    turn.disturbed = true;
    return;
  }
  if (!provesItself(state, answer, text) && isDouble(turn, asking, text, networkAt)) {
    turn.say(person, 'common.twice', {
      frame: null,
      caseId: asking.caseId,
      vars: { words: quotedWords(text, longestQuoted) },
    });
    interpreter.put({ ...asking, ask: { ...ask, again: true } });
    turn.disturbed = true;
    return;
  }
  if (!isNamed && isForgotten(turn, asking, text)) {
    turn.say(person, 'common.which-case', { frame: null, caseId: asking.caseId });
    interpreter.put({ ...asking, ask: { ...ask, again: true } });
    turn.disturbed = true;
    return;
  }
  if (!isNamed && isBetweenPatients(turn, asking)) {
    const words = quotedWords(text, longestQuoted);
    turn.say(person, 'common.of-whom', { frame: null, caseId: asking.caseId, vars: { words } });
    turn.disturbed = true;
    return;
  }
  if (isFrozen(turn, asking)) {
    sayFrozen(turn, person, asking.caseId);
    return;
  }
  endCry(turn, interpreter);
  turn.state = { ...turn.state, misses: 0, previousAskAt: ask.askedAt, taken: taken(turn, text, networkAt) };
  turn.answer = answer.value;
  if (asking.caseId !== null && !state.ask!.unrecorded) {
    const item = state.ask!.each ? frame.item : null;
    const flow = `${frame.flow}@${frame.hash}`;
    turn.record(asking.caseId, { type: 'answered', field: state.ask!.field, item, value: answer.value }, flow);
    for (const [field, value] of Object.entries(answer.fields)) {
      turn.record(asking.caseId, { type: 'answered', field, item, value: asJson(value ?? null) }, flow);
    }
  }
  interpreter.put({ ...asking, ask: null });
  const { length: said } = turn.says;
  interpreter.takeAnswer(asking.id, answer.outcome);
  turn.answer = null;
  const after = interpreter.thread(asking.id);
  // The matter went on without a question of its own: an interrupted one is repeated.
  if (after?.ask) return;
  turn.disturbed = true;
  const isSilent = turn.says.slice(said).every((one) => one.personId !== person.id) && !turn.comesAtOnce(person.id);
  if (isSilent && asking.caseId !== null) sayNoted(turn, interpreter, asking.caseId);
}

/** A question's number or its random digits come from that question only, whenever they were sent; words do not. */
function provesItself(state: FlowState, answer: Answer, text: string): boolean {
  if (!/\d/.test(toAsciiDigits(text))) return false;
  const option = state.ask!.options.find((one) => one.id === answer.value);
  return state.ask!.numbered !== null || option?.secret === true;
}

/** A bare digit long after the question, with other cases open: the question is repeated with its tag first. */
function isForgotten(turn: Turn, asking: Thread, text: string): boolean {
  const others = turn.threads.some((one) => one.caseId !== null && one.caseId !== asking.caseId);
  if (turn.event.kind === 'tap' || turn.world.quotedToken !== null || asking.ask!.again) return false;
  if (!others || !/^[\d\s,.]+$/.test(toAsciiDigits(text))) return false;
  return turn.now - asking.ask!.askedAt > durationOf(turn.world.programme, 'forget-ask');
}

/** Digits as long as the secret of the open question, or a tag, that are neither: a slip, or somebody who tries. */
function guessesDigits(turn: Turn, person: Person, asking: Thread, text: string): boolean {
  if (guessesTag(person, text)) return true;
  const hidden = secretOf(turn, asking);
  return hidden !== null && /^\d{2,}$/.test(toAsciiDigits(text).replace(/[\s.,-]+/g, ''));
}

function secretOf(turn: Turn, asking: Thread): string | null {
  const state = stateOf(turn, topFrame(asking)!);
  // An alarm's digits count behind their word alone: bare ones are no try at them.
  const hidden = state?.ask?.options.find((one) => one.secret && one.alarm === undefined);
  return asking.ask?.options.find((one) => one.id === hidden?.id)?.reply ?? null;
}

/** Wrong digits are counted; when they get longer, the open question and the doctor's are shown again with new ones. */
function guessed(turn: Turn, interpreter: Interpreter, person: Person, asking: Thread, text: string): void {
  const isSecret = secretOf(turn, asking) !== null;
  const longer = countWrongDigits(turn, person, isSecret ? 'secret' : 'tag');
  if (longer && person.roles.includes('doctor')) lengthenTags(turn, person);
  if (longer && isSecret) interpreter.show(asking.id);
  else notRead(turn, person, asking, text, 'not-an-option');
}

/** Commands that somebody writes with words of their own; after any other, words are an answer in words. */
const takesWords: ReadonlySet<string> = new Set(['DOCTOR', 'SOS']);

/** Commands that are themselves replies to what was asked. */
const replies: ReadonlySet<string> = new Set(['YES', 'NO', 'BACK']);

function isReply(turn: Turn, person: Person, text: string): boolean {
  return replies.has(commandIn(turn, person, text)?.word ?? '');
}

/** The command of this person that the text begins with. `alone`: nothing stands behind it, or something with digits. */
function commandIn(
  turn: Turn,
  person: Person,
  text: string,
): { readonly word: string; readonly alone: boolean } | null {
  const [first = '', ...rest] = text.trim().split(/[\s,;:]+/);
  const word = turn.world.texts.keyword(person.locale, foldWord(first));
  const command = word === null ? undefined : turn.registry.commands.get(word);
  if (word === null || !command?.roles.some((role) => person.roles.includes(role))) return null;
  return { word, alone: rest.length === 0 || rest.some((one) => /\d/.test(toAsciiDigits(one))) };
}

/**
 * True: a text in free words only looks like a command, by its first word (`No fixative left`, `New lump on the left`).
 * A command stands alone or is followed by digits; one that is no word for this person is none where words are asked.
 */
function isFreeAnswer(turn: Turn, person: Person, asking: Thread | null, direct: Read | null, text: string): boolean {
  if (asking?.ask?.kind !== 'text' || direct?.kind !== 'read') return false;
  const command = commandIn(turn, person, text);
  if (!command) return true;
  const state = stateOf(turn, topFrame(asking)!);
  return !command.alone && !takesWords.has(command.word) && state?.ask?.reader == null;
}

/** Said to a patient or to the needle, or the beginning of a sentence: they are obeyed when nothing stands behind them. */
const standsAlone: ReadonlySet<string> = new Set(['STOP', 'BRIEF', 'PLAIN']);

/** Words for a patient's sake: answering by digits is learnt before one waits. */
const afterPractice: ReadonlySet<string> = new Set(['NEW', 'TAKE', 'POST']);

function practiseFirst(turn: Turn, interpreter: Interpreter, person: Person): void {
  if (turn.threads.some((one) => one.frames.some((frame) => traitsOf(turn.world.flows, frame).teaches))) {
    turn.say(person, 'common.not-practised', { frame: null, caseId: null });
    turn.disturbed = true;
  } else interpreter.run('join');
}

/** The name of a language, alone, asks for it. */
function languageIn(turn: Turn, text: string): 'LANGUAGE' | null {
  const said = foldWord(text);
  return turn.world.texts.languages.some(({ name }) => foldWord(name) === said) ? 'LANGUAGE' : null;
}

/** Runs the command that the text begins with. False: it begins with none that this person may use. */
function obey(turn: Turn, interpreter: Interpreter, person: Person, text: string): boolean {
  // A sign alone is the same between marks.
  const lines = text.trim().replace(/^["'“”„«‘]\s*([?*])\s*["'“”»’]?$/u, '$1');
  const symbol = /^[?*]/.exec(lines)?.[0];
  const first = symbol ?? /^[^\s,;:]+/.exec(lines)?.[0] ?? '';
  const tags = turn.threads.flatMap((one) => turn.caseOf(one.caseId)?.tag ?? []);
  const exit = exitCommand(turn.world.texts, person.locale, lines, tags);
  const word =
    symbol === '?'
      ? 'HELP'
      : symbol === '*'
        ? 'BACK'
        : (exit?.word ?? turn.world.texts.keyword(person.locale, foldWord(first)) ?? languageIn(turn, lines));
  if (word === null) return false;
  const command = turn.registry.commands.get(word);
  if (!command) return false;
  if (!command.roles.some((role) => person.roles.includes(role))) {
    if (command.everyday) return false;
    if (askingThread(turn) === null && sayOpenQuestion(turn, person)) return true;
    const shownWord = turn.world.texts.keywordShown(person.locale, word);
    turn.say(person, 'common.not-your-word', { frame: null, caseId: null, vars: { word: shownWord } });
    turn.disturbed = true;
    return true;
  }
  // `Yes breathing fine`, `no car`: a word that proves something stands alone or with its digits.
  const isProof = word === 'YES' || word === 'NO';
  if (isProof && !person.roles.includes('lab') && /\p{L}/u.test(lines.slice(first.length))) return false;
  const rest = exit
    ? exit.rest
    : word === 'LANGUAGE' && languageIn(turn, lines)
      ? lines
      : lines.slice(first.length).trim();
  if (standsAlone.has(word) && rest !== '') return false;
  // `Emergency kit complete` only begins like an alarm.
  if (word === 'SOS' && cryIn(text, turn.world.texts.alarmWords(person.locale)) === null) return false;
  const practises = word === 'NEW' && asksPractice(turn.world.texts, person.locale, rest);
  if (!person.practised && afterPractice.has(word) && !practises) {
    practiseFirst(turn, interpreter, person);
    return true;
  }
  command.run(turn, interpreter, rest);
  return true;
}
