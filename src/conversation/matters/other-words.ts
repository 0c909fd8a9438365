/** W: the question that is open, in other words; a trade word behind it is explained. */
import { roles } from '../../case/roles.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { wordsOf } from '../../text/fold.ts';
import { longestQuoted, quotedWords } from '../../text/one-line.ts';
import { fitsScreen } from '../../text/segments.ts';
import { laneOf } from '../alarm-digits.ts';
import type { FlowState } from '../flow.ts';
import { isFrozen, sayFrozen } from '../frozen.ts';
import { askingThread, type Interpreter, stateOf, topFrame } from '../interpret.ts';
import { inPlainWords } from '../keep-voice.ts';
import type { Matter } from '../moment.ts';
import { saysNextCheck } from '../open-alarm.ts';
import type { Frame, Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import { tradeWordsIn, type WordAsked, wordAsked } from './glossary.ts';

/**
 * The question in longer words where they are written, how to ask about its trade words, then the question itself, one option
 * a line. A doctor's question of the ladder is shown again; with nothing open that is said.
 */
function inOtherWords(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  if (isWord(turn, interpreter, rest)) {
    explain(turn, interpreter, rest, null);
    return;
  }
  const asking = askingThread(turn);
  if (asking && isFrozen(turn, asking)) {
    sayFrozen(turn, person, asking.caseId);
    return;
  }
  if (asking) {
    sayLonger(turn, interpreter, asking);
    inPlainWords(turn, () => interpreter.show(asking.id, true));
    return;
  }
  const own = turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
  const meant = own.find((one) => one.id === turn.state.lastQuestionId) ?? own.at(-1);
  if (meant) {
    turn.post(person.id, { kind: 'ask-doctor', questionId: meant.id, rung: meant.rung }, { caseId: meant.caseId });
    return;
  }
  if (saysNextCheck(turn, person)) return;
  turn.say(person, 'desk.nothing-asked', { frame: null, caseId: null });
}

/** `W please`, `words 2`: what stands behind is no word to explain. */
function isWord(turn: Turn, { person }: Interpreter, rest: string): boolean {
  const fillers = new Set(turn.world.texts.alarmWords(person.locale).flatMap((one) => one.fillers));
  return wordsOf(rest)
    .split(' ')
    .some((one) => /\p{L}/u.test(one) && !fillers.has(one));
}

/** The own text of the state, or of the question that several states share; null: none is written. */
function longerKey(turn: Turn, frame: Frame, state: FlowState): TextKey | null {
  const keys = [`words.${frame.flow}-${state.name}`, `words.${state.text.replace('.', '-')}`];
  return keys.find((one): one is TextKey => turn.world.texts.has(one)) ?? null;
}

function sayLonger(turn: Turn, { person }: Interpreter, asking: Thread): void {
  const frame = topFrame(asking)!;
  const state = stateOf(turn, frame)!;
  const { texts } = turn.world;
  const where = { frame, caseId: asking.caseId, lane: laneOf(turn, frame) };
  const key = longerKey(turn, frame, state);
  if (key) turn.say(person, key, where);
  // First aid and the way to hospital leave no time for words.
  if (where.lane === 'sos') return;
  const longer = key ? turn.render(person, key, frame, asking.caseId) : '';
  const question = turn.render(person, state.text, frame, asking.caseId);
  const words = tradeWordsIn(texts, person.locale, `${question} ${longer}`);
  // As many as one screen holds: the others are asked about in the same way.
  const line = words
    .map((_, left) => words.slice(0, words.length - left))
    .map((shown) => texts.render(person.locale, 'explain.trade-words', (name) => tradeWord(name, shown)))
    .find((text) => fitsScreen(text));
  // It is about no patient: the question begins a screen of its own, with its tag.
  if (line !== undefined)
    turn.sayText(person, line, { frame: null, caseId: null, lane: where.lane, step: 'trade-words' });
}

/** All of them, or the one that is typed soonest as an example. */
function tradeWord(name: string, shown: readonly string[]): string {
  return name === 'word' ? shown.reduce((short, one) => (one.length < short.length ? one : short)) : shown.join(', ');
}

/** Says what the word means, or that nobody has written it down, and asks the open question again. */
function explain(turn: Turn, { person }: Interpreter, said: string, asked: WordAsked | null): void {
  const { texts } = turn.world;
  const { term } = asked ?? wordAsked(texts, person.locale, `? ${said}`) ?? { term: null };
  turn.disturbed = true;
  turn.state = { ...turn.state, misses: 0 };
  if (term) {
    turn.say(person, `glossary.${term.id}` as TextKey, { frame: null, caseId: null });
    return;
  }
  const asksDoctor = turn.registry.commands.get('DOCTOR')?.roles.some((role) => person.roles.includes(role)) === true;
  turn.say(person, asksDoctor ? 'explain.not-known' : 'explain.not-known-here', {
    frame: null,
    caseId: null,
    vars: { said: quotedWords(said, longestQuoted) },
  });
}

/**
 * True: the text asks what a trade word means, which has been said. What the glossary lacks is left to W and to `?`, but for a
 * whole sentence about it. `isFree`: it could be an answer in free words, and is one unless it begins with W or `?`.
 */
export function explainsWord(
  turn: Turn,
  interpreter: Interpreter,
  asking: Thread | null,
  text: string,
  isFree: boolean,
): boolean {
  const { locale } = interpreter.person;
  const asked = wordAsked(turn.world.texts, locale, text);
  if (!asked || (isFree && asked.by !== 'sign') || (!asked.term && asked.by !== 'sentence')) return false;
  // `What does this mean?` asks for the question itself.
  const isItself = !asked.term && asking && turn.world.texts.words(locale, 'explain', 'itself').includes(asked.said);
  if (isItself) inOtherWords(turn, interpreter, '');
  else explain(turn, interpreter, asked.said, asked);
  return true;
}

export const otherWords: Matter = { commands: { W: { roles, run: inOtherWords } } };
