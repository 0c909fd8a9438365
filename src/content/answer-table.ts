/** Every reply that a question takes, by what is sent: what one digit, letter or word can mean in one language. */
import type { Flow, FlowSet } from '../conversation/flow.ts';
import type { Texts } from '../conversation/texts.ts';
import { onlyAdds } from './reply-weight.ts';
import type { Locale } from './texts.ts';

/** One reply at one question. */
export interface AnswerRow {
  readonly locale: string;
  /** As it is sent; `#` stands for a number that differs: drawn anew, of the try (2: 21), of a doctor's question. Empty: by words alone. */
  readonly reply: string;
  /** `flow.state`, `doctor.` and what a doctor is asked about, or `anywhere`. */
  readonly question: string;
  readonly option: string;
  /** `adds`: raises care at most, may be sent twice; `acts`: denies, consents, postpones, lets go or records an act. */
  readonly weight: 'adds' | 'acts';
  /** Words that are taken for it, as they are compared. */
  readonly words: readonly string[];
}

/** A question of a flow, or a doctor's, with its options. */
interface Asking {
  readonly question: string;
  readonly field: string;
  readonly options: readonly { readonly id: string; readonly reply: string; readonly isDrawn: boolean }[];
}

/** All rows of the newest flows and the command words, by language and reply: digits first, in their order. */
export function answerRows(
  flows: FlowSet,
  texts: Texts,
  locales: readonly Pick<Locale, 'tag' | 'keywords'>[],
): readonly AnswerRow[] {
  const asking = [...flows.newest.values()].flatMap(askingOf);
  return locales.flatMap(({ tag: locale, keywords }) => {
    const answers = asking.flatMap(({ question, field, options }) =>
      options.map(({ id, reply, isDrawn }): AnswerRow => {
        const weight = onlyAdds(id, field) ? 'adds' : 'acts';
        return {
          locale,
          reply: isDrawn ? `#${reply}` : reply,
          question,
          option: id,
          weight,
          words: texts.words(locale, field, id),
        };
      }),
    );
    const commands = Object.entries(keywords).map(([option, words]): AnswerRow => {
      return { locale, reply: '', question: 'anywhere', option, weight: 'acts', words };
    });
    return [...answers, ...commands].sort(byReply);
  });
}

function askingOf(flow: Flow): readonly Asking[] {
  return [...flow.states.values()].flatMap(({ name, ask, question, transitions }) => {
    const own = ask
      ? ask.options.map(({ id, reply, secret }) => ({
          ...{ id, reply: secret ? '' : reply },
          isDrawn: secret || ask.numbered !== null,
        }))
      : [];
    const all = [question, ...[...transitions.values()].map((one) => one.question)].filter((one) => one !== null);
    // The same question, put again when a timer is over or a day has come.
    const asked = [...new Map(all.map((one) => [one.about, one])).values()];
    return [
      ...(ask ? [{ question: `${flow.name}.${name}`, field: ask.field, options: own }] : []),
      ...asked.map(({ about, options }) => ({
        question: `doctor.${about}`,
        field: about,
        // Behind the number of the question.
        options: options.map(({ id, reply }) => ({ id, reply: ` ${reply}`, isDrawn: true })),
      })),
    ];
  });
}

function byReply(a: AnswerRow, b: AnswerRow): number {
  const isWord = (one: AnswerRow): number => Number(!/^\d/.test(one.reply));
  return (
    isWord(a) - isWord(b) ||
    a.reply.localeCompare(b.reply, 'en', { numeric: true }) ||
    a.question.localeCompare(b.question, 'en')
  );
}
