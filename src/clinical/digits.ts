/** Value 0 to 9 of a decimal digit of any script; the digits of a script stand in an unbroken run from zero. */
function digitValue(digit: string): number {
  let before = digit.codePointAt(0)! - 1;
  while (/\p{Nd}/u.test(String.fromCodePoint(before))) before -= 1;
  return (digit.codePointAt(0)! - before - 1) % 10;
}

/**
 * Gives the text with every decimal digit of any script (Arabic-Indic, Devanagari, full-width ...) written as 0 to 9.
 * Nothing else changes: letters that look like digits stay letters.
 */
export function plainDigits(text: string): string {
  return text.replace(/\p{Nd}/gu, (digit) => (digit >= '0' && digit <= '9' ? digit : String(digitValue(digit))));
}
