/** What did not happen, said in one word at any question before the post: which words there are, and where each can be true. */
import { foldWord } from '../text/fold.ts';
import type { Flow, FlowState } from './flow.ts';
import type { OpenAsk } from './state.ts';
import type { Texts } from './texts.ts';

/** The patient says no; has left; no needle went in; another day: the keyword of each. */
export const exitWords = { refuses: 'REFUSES', gone: 'GONE', 'not-done': 'NOTDONE', later: 'LATER' } as const;
export type ExitKind = keyof typeof exitWords;
export const exitKinds = Object.keys(exitWords) as readonly ExitKind[];

/** Options that say the same where a question has them: the word is that answer then. */
const asOption: Readonly<Record<ExitKind, readonly string[]>> = {
  refuses: ['refuses', 'declined', 'end-here'],
  gone: ['not-found', 'not-coming'],
  'not-done': ['not-done'],
  later: ['other-day', 'new-day'],
};

/** The exits that a question has. An open alarm has none. */
export function exitsAt(flow: Flow, state: FlowState): readonly ExitKind[] {
  if (state.traits.alarm === 'emergency' || flow.traits.alarm === 'raised') return [];
  return exitKinds.filter(
    (kind) =>
      state.transitions.has(`exit.${kind}`) ||
      flow.anywhere.has(`exit.${kind}`) ||
      state.ask?.options.some((one) => asOption[kind].includes(one.id)) === true,
  );
}

/** What is sent for the option that says this exit; null where the question has none. */
export function exitReply(ask: OpenAsk, kind: ExitKind): string | null {
  return ask.options.find((one) => asOption[kind].includes(one.id))?.reply ?? null;
}

/** The exit that this text says, alone: by its keyword or in a few words (`patient left`). */
export function exitSaid(texts: Texts, locale: string, text: string): ExitKind | null {
  const said = foldWord(text.replace(/[.!]+$/, ''));
  const named = exitKinds.find((kind) => texts.keyword(locale, said) === exitWords[kind]);
  return named ?? exitKinds.find((kind) => texts.words(locale, 'exits', kind).includes(said)) ?? null;
}

/** The same with a patient's tag in front (`AK GONE`), as the command and what stands behind it. */
export function exitCommand(
  texts: Texts,
  locale: string,
  text: string,
  tags: readonly string[],
): { readonly word: string; readonly rest: string } | null {
  const alone = exitSaid(texts, locale, text);
  if (alone) return { word: exitWords[alone], rest: '' };
  const [, tag = '', behind = ''] = /^\s*([\p{L}\p{N}-]+)\s*[:,.]?\s+(\S.*)$/u.exec(text) ?? [];
  if (!tags.some((one) => foldWord(one) === foldWord(tag))) return null;
  const named = exitSaid(texts, locale, behind);
  return named ? { word: exitWords[named], rest: tag } : null;
}
