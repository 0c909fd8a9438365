/** Reads one reply against the question as it was shown. */

import type { FurtherAnswers } from '../case/answers.ts';
import type { Json } from '../case/events.ts';
import { assertNever } from '../clinical/assert-never.ts';
import type { Parsed, ShownOption } from './answers/answer.ts';
import { readChoice } from './answers/choice.ts';
import { readChoices } from './answers/choices.ts';
import { readText } from './answers/text.ts';
import type { FlowAsk } from './flow.ts';
import type { Moment } from './moment.ts';
import type { OpenAsk } from './state.ts';
import type { Turn } from './turn.ts';

/** Longest free answer, characters. */
const longestWords = 480;

export interface Answer {
  readonly value: Json;
  /** Further fields that the same reply answered. */
  readonly fields: FurtherAnswers;
  /** Transition to take. */
  readonly outcome: string;
  /** Of a question in free words: this is its answer and nothing else, though it may begin like a command. */
  readonly exact?: true;
}

/** The shown options with the words that this person may use for them. What needs its random digits has no words. */
function shownOptions(turn: Turn, locale: string, ask: FlowAsk, open: OpenAsk): readonly ShownOption[] {
  const secret = new Set(ask.options.flatMap((one) => (one.secret ? [one.id] : [])));
  return open.options.map((one) => ({
    ...one,
    words: secret.has(one.id) ? [] : turn.world.texts.words(locale, open.field, one.id),
  }));
}

/** Value and transition of a reply, or why it cannot be read. Never throws on any text. */
export function readAnswer(turn: Turn, moment: Moment, ask: FlowAsk, open: OpenAsk, text: string): Parsed<Answer> {
  if (ask.reader) {
    const reader = turn.registry.readers.get(ask.reader);
    if (!reader) throw new Error(`no reader ${ask.reader}`);
    const read = reader(text, moment);
    if (!read.ok) return read;
    const { fields = {}, outcome = 'answered' } = read.value;
    return { ok: true, value: { ...read.value, fields, outcome } };
  }
  const options = shownOptions(turn, moment.person.locale, ask, open);
  switch (ask.kind) {
    case 'choice': {
      const read = readChoice(text, options);
      return read.ok ? { ok: true, value: { value: read.value, fields: {}, outcome: read.value } } : read;
    }
    case 'choices': {
      const read = readChoices(text, options);
      return read.ok ? { ok: true, value: { value: read.value, fields: {}, outcome: 'answered' } } : read;
    }
    case 'text': {
      const read = readText(text, longestWords);
      return read.ok ? { ok: true, value: { value: read.value, fields: {}, outcome: 'answered' } } : read;
    }
    case 'number':
    case 'diameters':
    case 'date':
    case 'code':
      throw new Error(`a ${ask.kind} needs a reader`);
    default:
      return assertNever(ask.kind);
  }
}
