import { type Parsed, read, unreadable } from './answer.ts';

/** Free words: trimmed, line ends kept, other control characters dropped, composed to NFC. `mostCharacters` counts code points. */
export function readText(text: string, mostCharacters: number): Parsed<string> {
  if (text.length > mostCharacters * 8) return unreadable('too-long');
  const plain = text
    .replace(/\r\n?/g, '\n')
    .replace(/[^\P{Cc}\n]|\p{Cs}/gu, ' ')
    .normalize('NFC')
    .trim();
  if (plain === '') return unreadable('empty');
  return [...plain].length > mostCharacters ? unreadable('too-long') : read(plain);
}
