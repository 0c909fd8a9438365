/** The result of a lymph node as a laboratory texts it. */
import type { FiledResult } from '../../case/events.ts';
import { type NodeQuestion, parseNodeResult } from '../../clinical/cytology/parse-node.ts';
import {
  infectionsNamed,
  type NamedIn,
  nodeInfections,
  perhaps,
  typesThatSteer,
} from '../../clinical/cytology/result-words.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { namedInResult } from './result-words.ts';

const questions: Readonly<Record<NodeQuestion, TextKey>> = {
  'thyroid-code': 'laboratory.ask-is-a-node',
  'two-codes': 'laboratory.ask-two-codes',
  'no-such-code': 'laboratory.ask-no-such-code',
  'bare-number': 'laboratory.ask-node',
  'bare-roman': 'laboratory.ask-node',
  unreadable: 'laboratory.ask-node',
};

/**
 * Reads `L2 tuberculosis`. Tuberculosis and granulomas sit in the benign category: without a word on them, found or denied, it is
 * asked back. What may be lymphoma steers too: no smear of a node settles it.
 */
export function readNode(
  turn: Turn,
  person: Person,
  words: string,
): FiledResult | { readonly ask: TextKey; readonly options: readonly string[] } {
  const parsed = parseNodeResult(words);
  if (!parsed.ok) return { ask: questions[parsed.ask], options: parsed.options };
  const { said, code } = parsed;
  const named = namedInResult(turn.world.texts, person.locale, parsed.words);
  if (code === 'L2' && !saysWhetherInfected(named)) return { ask: 'laboratory.ask-node-infection', options: [] };
  const steering = typesThatSteer(named, code);
  const types = perhaps(named, 'lymphoma')
    ? (['lymphoma', ...steering.filter((one) => one !== 'lymphoma')] as const)
    : steering;
  const infections = infectionsNamed(named);
  return {
    said,
    system: 'Sydney',
    code,
    canonical: code,
    words: parsed.words,
    ...(types.length > 0 ? { types } : {}),
    ...(infections.length > 0 ? { infections } : {}),
  };
}

function saysWhetherInfected({ found, doubted, denied }: NamedIn): boolean {
  const said = new Set([...found, ...doubted, ...denied]);
  return nodeInfections.some((one) => said.has(one));
}
