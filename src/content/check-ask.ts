import type { FlowState } from '../conversation/flow.ts';
import type { Report } from './check-flow.ts';
import type { CheckRegistry } from './check-registry.ts';
import { suggestion } from './closest.ts';
import type { Path } from './yaml-source.ts';

/** A question can be answered, each answer by its own digit, and each answer leads on. */
export function checkAsk(state: FlowState, at: Path, registry: CheckRegistry, report: Report): void {
  const ask = state.ask!;
  const path = [...at, 'ask'];
  if (ask.reader !== null && registry.readers && !registry.readers.has(ask.reader)) {
    const todo = suggestion(ask.reader, registry.readers.keys(), 'add the reader or remove it');
    report([...path, 'reader'], `there is no reader ${ask.reader}`, todo);
  }
  if (ask.reader === null && !['choice', 'choices', 'text'].includes(ask.kind)) {
    report(path, `a ${ask.kind} cannot be read without a reader`, 'name a reader');
  }
  if (ask.numbered !== null && registry.values && !registry.values.has(ask.numbered)) {
    const todo = suggestion(ask.numbered, registry.values.keys(), 'add the value or remove it');
    report([...path, 'numbered'], `there is no value ${ask.numbered}`, todo);
  }
  const closed = ask.kind === 'choice' || ask.kind === 'choices';
  if (closed && ask.options.length === 0 && ask.reader === null) {
    report(path, 'there is nothing to choose from', 'add options');
  }
  const shown = ask.options.filter((option) => !option.secret && option.alarm === undefined);
  if (shown.some((option) => option.reply === '')) {
    report([...path, 'options'], 'more options than the digits 1 to 8', 'split the question');
  }
  const replies = shown.map((option) => option.reply).filter((reply) => reply !== '');
  const twice = replies.find((reply, index) => replies.indexOf(reply) !== index);
  if (twice !== undefined) report([...path, 'options'], `two options share the reply ${twice}`, 'give each its own');
  for (const option of shown) checkReply(option, [...path, 'options'], report);

  if (state.transitions.has('answered')) return;
  if (ask.kind !== 'choice') {
    if (ask.reader === null || state.transitions.size === 0) {
      report([...at, 'transitions'], 'the answer leads nowhere', 'add answered:');
    }
    return;
  }
  const open = ask.options.filter((option) => !state.transitions.has(option.id)).map((option) => option.id);
  if (open.length > 0 && ask.reader === null) {
    report([...at, 'transitions'], `not treated: ${open.join(', ')}`, 'add a transition for each, or answered:');
  }
}

/** 0 is none or no, 9 is cannot tell, everywhere; an id such as `not-examined` says either. */
function checkReply(option: { readonly id: string; readonly reply: string }, path: Path, report: Report): void {
  if (option.reply === '0' && !/^no/u.test(option.id)) {
    report(path, `${option.id} has the reply 0, which means none or no`, 'use 1 to 8');
  }
  if (option.reply === '9' && !/^(unknown$|not-)/u.test(option.id)) {
    report(path, `${option.id} has the reply 9, which means cannot tell`, 'use 1 to 8');
  }
}
