/** One text of several screens: each is sent as a message of its own and complete alone. */

/** Stands between two screens of one text: a control sign that no text shows and nobody's quoted words keep. */
export const screenBreak = '\u001e';

/** The screens of a text in their order. One without words is none: so a text can leave a screen out. */
export function screensOf(text: string): readonly string[] {
  if (!text.includes(screenBreak)) return text === '' ? [] : [text];
  return text
    .split(screenBreak)
    .map((one) => one.trim())
    .filter((one) => one !== '');
}
