/** A text that is delivered twice must not deny, consent, postpone, let go or record an act at the next question. */
import type { FlowAsk, FlowOption } from '../conversation/flow.ts';
import { type AskingState, askedNext } from './asked-next.ts';
import type { CheckRegistry } from './check-registry.ts';
import type { FlowSource } from './load.ts';
import type { Problem } from './problem.ts';
import { onlyAdds } from './reply-weight.ts';

/** One problem for each reply that a doubled answer of the question before would give. */
export function checkDoubled(sources: readonly FlowSource[], registry: CheckRegistry): readonly Problem[] {
  const asking: readonly AskingState[] = sources.flatMap((source) =>
    [...source.flow.states.values()].flatMap((state) => (state.ask === null ? [] : [{ source, state }])),
  );
  return asking.flatMap((before) =>
    askedNext(before, sources, registry).flatMap(({ source, state }) => {
      const shared = weighty(state.ask!).filter(({ reply }) => accepts(before.state.ask!, reply));
      if (shared.length === 0) return [];
      const replies = shared.map(({ id, reply }) => `${reply} (${id})`).join(', ');
      const path = ['states', state.name, 'ask'];
      const what = `a doubled answer of ${before.source.flow.name}.${before.state.name} would say ${replies}`;
      return [{ file: source.file, line: source.lineOf(path), path: path.join('.'), what, todo: 'use other replies' }];
    }),
  );
}

/** Replies of a question that do more than add a finding. Numbered and secret ones, and an alarm's words, are its own. */
function weighty(ask: FlowAsk): readonly FlowOption[] {
  if (ask.numbered !== null) return [];
  return ask.options.filter((one) => isPrinted(one) && !onlyAdds(one.id));
}

/** Whether a question would read this reply as an answer of its own. */
function accepts(ask: FlowAsk, reply: string): boolean {
  if (ask.numbered !== null) return false;
  const replies = ask.options.filter(isPrinted).map((one) => one.reply);
  switch (ask.kind) {
    case 'number':
      return /^\d{1,3}$/u.test(reply);
    case 'choices':
      return replies.includes(reply) || isRun(reply, replies);
    case 'choice':
    case 'diameters':
    case 'date':
    case 'text':
    case 'code':
      return replies.includes(reply);
  }
}

/** Several options in one reply: `41` where 4 and 1 can be chosen; a 0 inside a run of digits is unreadable. */
function isRun(reply: string, replies: readonly string[]): boolean {
  return reply.length > 1 && !/[09]/u.test(reply) && [...reply].every((sign) => replies.includes(sign));
}

function isPrinted(option: FlowOption): boolean {
  return !option.secret && option.alarm === undefined && option.reply !== '';
}
