/** What a text and its translation, or a text and its next wording, have to share: the values and the numbers. */
import { toAsciiDigits } from '../text/digits.ts';
import type { Template } from '../text/render.ts';

/** Says nothing: where a text goes on in a next screen is a matter of its length, which is another in each language. */
const onlyLayout = 'goesOn';

/** All digits in their order name the digits themselves (write 0123456789), of whichever script: no number of the text. */
const allDigits = '0123456789';

/** Names of the values, each once, in the order of the alphabet; '' where there are none. */
export function valuesOf(templates: readonly Template[]): string {
  const names = new Set(templates.flatMap((one) => one.placeholders));
  names.delete(onlyLayout);
  return [...names].sort().join(', ');
}

/**
 * Numbers of a text in order of size, digits of every script alike, decimal comma as point. `figured`: names of months,
 * January first, that count as the number of the month behind a day (`20 MAR` as `20/3`).
 */
export function numbersOf(template: Template, figured: readonly string[] = []): string {
  const said = template.parts.map((part) => (typeof part === 'string' ? part : '\u0000')).join('');
  const literal = said.replace(/(?<=\d )[A-Z]{3}\b/gu, (name) => {
    const at = figured.indexOf(name);
    return at < 0 ? name : String(at + 1);
  });
  const numbers =
    toAsciiDigits(literal)
      .replaceAll(allDigits, '')
      .match(/\d+(?:[.,]\d+)?/gu) ?? [];
  return numbers
    .map((one) => one.replace(',', '.'))
    .sort()
    .join(' ');
}
