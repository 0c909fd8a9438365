/** Who reads a text, and how: the rules of wording differ a little between a question, a briefing and a doctor's screen. */
import type { FlowSource } from '../load.ts';

/** `choice`: a worker's question that is answered with one of several replies. `briefing`: read before gloves go on. */
export type WordGroup = 'choice' | 'briefing' | 'first aid' | 'doctor' | 'laboratory' | 'coordinator' | 'other';

/** Questions that are asked on a phone which is not a worker's. */
const others: readonly (readonly [RegExp, WordGroup])[] = [
  [/^(?:read-back|rejected|reporter|stands|thy1-reason)\./u, 'laboratory'],
  [/^(?:credit|staff|second|end)\./u, 'coordinator'],
];

/** Texts that are said by name. */
const byKey: readonly (readonly [RegExp, WordGroup])[] = [
  [/^sampling\.(?:brief|again|rinse)-?/u, 'briefing'],
  [/^(?:sos|cry)\.(?!.*-for-|for-|said-|no-patient|nobody-named|and-others)/u, 'first aid'],
  [/^doctor\./u, 'doctor'],
  [/^laboratory\./u, 'laboratory'],
  [/^(?:digest|staff|people|report)\./u, 'coordinator'],
];

/** What is asked with a text. */
export interface AskedWith {
  readonly group: WordGroup;
  /** As they stand in the text: the number of a numbered question before each, `{attempt}1`. */
  readonly replies: readonly string[];
}

/** Texts that ask, by key, with the replies that their question takes. */
export function askedTexts(flows: readonly FlowSource[]): ReadonlyMap<string, AskedWith> {
  const asked = new Map<string, AskedWith>();
  for (const { flow } of flows) {
    for (const state of flow.states.values()) {
      if (state.ask) {
        const isChoice = state.ask.options.length > 0;
        const group = others.find(([form]) => form.test(state.text))?.[1] ?? (isChoice ? 'choice' : 'other');
        const number = state.ask.numbered === null ? '' : `{${state.ask.numbered}}`;
        asked.set(state.text, { group, replies: state.ask.options.map((one) => `${number}${one.reply}`) });
      }
      for (const one of [state, ...state.transitions.values()]) {
        const question = one.question;
        if (!question) continue;
        asked.set(`doctor.${question.about}`, { group: 'doctor', replies: question.options.map(({ reply }) => reply) });
      }
    }
  }
  return asked;
}

/** The group of a text. */
export function groupOf(key: string, asked: ReadonlyMap<string, AskedWith>): WordGroup {
  return byKey.find(([form]) => form.test(key))?.[1] ?? asked.get(key)?.group ?? 'other';
}
