import type { ShownOption } from '../answers/answer.ts';
import type { Moment } from '../moment.ts';

/** Options of the open question with the words of this language. */
export function optionsOf(moment: Moment): readonly ShownOption[] {
  const { texts } = moment.world;
  const ask = moment.ask;
  if (!ask) return [];
  return ask.options.map((one) => ({ ...one, words: texts.words(moment.person.locale, ask.field, one.id) }));
}
