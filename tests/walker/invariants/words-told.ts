import type { TextKey } from '../../../src/generated/text-keys.ts';
import { shipped } from '../../support/shipped.ts';

const { texts } = shipped;

/** Whether a text holds the words of one of these keys, whatever numbers stand in them, each sentence by itself. */
export function saysOneOf(keys: readonly string[], text: string): boolean {
  const plain = text.toLowerCase();
  return keys.some((key) => {
    const pieces = texts
      .render('en', key as TextKey, () => '|')
      .toLowerCase()
      .split(/\||(?<=\.) /);
    return pieces.every((piece) => plain.includes(piece.trim()));
  });
}
