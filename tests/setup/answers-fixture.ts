import { readFileSync } from 'node:fs';
import { type Answers, readAnswers } from '../../src/setup/answers.ts';

/** The explained example, as a coordinator copies it. */
export const exampleText = readFileSync(new URL('../../deploy/setup.example.yaml', import.meta.url), 'utf8');

/** What the example says; other parts in place of its own. */
export function exampleAnswers(other: Partial<Answers> = {}): Answers {
  const { answers, problems } = readAnswers('setup.yaml', exampleText);
  if (!answers || problems.length > 0) throw new Error('the example has faults');
  return { ...answers, ...other };
}

/** The example with a piece in place of another that stands in it once. */
export function changedExample(piece: string, by: string): string {
  if (exampleText.split(piece).length !== 2) throw new Error(`${piece} does not stand there once`);
  return exampleText.replace(piece, by);
}
