const decimalDigit = /\p{Nd}/gu;
const foreign = /[^\0-\x7f]/;

/**
 * The text with each decimal digit of any script (Unicode general category Nd: Arabic-Indic, Devanagari, Bengali,
 * fullwidth …) replaced by its ASCII digit. Everything else stays, also signs that only look like digits (½, ², ①).
 */
export function toAsciiDigits(text: string): string {
  if (!foreign.test(text)) return text;
  return text.replace(decimalDigit, (digit) => String(digitValue(digit.codePointAt(0)!)));
}

/** Nd stands in unbroken runs of ten, zero first (Unicode Standard, section 4.6); some runs touch, so counted modulo ten. */
function digitValue(code: number): number {
  if (code >= 0x30 && code <= 0x39) return code - 0x30;
  let zero = code;
  while (isDecimalDigit(zero - 1)) zero -= 1;
  return (code - zero) % 10;
}

function isDecimalDigit(code: number): boolean {
  return /^\p{Nd}$/u.test(String.fromCodePoint(code));
}
