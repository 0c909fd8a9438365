/**
 * GSM 7 bit default alphabet by code, 0x00 to 0x7F (3GPP TS 23.038, section 6.2.1; from memory, compared with two
 * independent packages in the tests). Code 0x1B, the escape to the extension table, is no character.
 */
const defaultAlphabet =
  '@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞ\u001bÆæßÉ' +
  ' !"#¤%&\'()*+,-./0123456789:;<=>?' +
  '¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§' +
  '¿abcdefghijklmnopqrstuvwxyzäöñüà';

/** Extension table, each sent as escape and code: two septets (3GPP TS 23.038, section 6.2.1.1). Form feed is its page break. */
const extension = '\f^{}\\[~]|€';

const septets: ReadonlyMap<string, 1 | 2> = new Map<string, 1 | 2>([
  ...[...defaultAlphabet].filter((sign) => sign !== '\u001b').map((sign): [string, 1] => [sign, 1]),
  ...[...extension].map((sign): [string, 2] => [sign, 2]),
]);

/** Typographic signs and the GSM 7 bit writing of the same thing. Letters are never changed here. */
const equals: Readonly<Record<string, string>> = {
  '‘': "'",
  '’': "'",
  '‚': "'",
  '‛': "'",
  '′': "'",
  '`': "'",
  '´': "'",
  ʼ: "'",
  '“': '"',
  '”': '"',
  '„': '"',
  '‟': '"',
  '″': '"',
  '«': '"',
  '»': '"',
  '‹': "'",
  '›': "'",
  '‐': '-',
  '‑': '-',
  '‒': '-',
  '–': '-',
  '—': '-',
  '―': '-',
  '−': '-',
  '…': '...',
  '•': '-',
  '·': '-',
  '×': 'x',
  '÷': '/',
  '⁄': '/',
  '≤': '<=',
  '≥': '>=',
  '→': '->',
  '\t': ' ',
  '\u2028': '\n',
  '\u2029': '\n',
  '\u00ad': '',
  '\u200b': '',
  '\u200c': '',
  '\u200d': '',
  '\u200e': '',
  '\u200f': '',
  '\u2060': '',
  '\ufeff': '',
};

/** Signs of both ASCII and GSM 7 bit, as nearly every text has them alone: none of them is written in another way. */
const plain = /^[\n -_a-~]*$/;

const spaces = /[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000]/g;

/** Septets that one character takes: 1, 2 from the extension table, null when GSM 7 bit has no such character. */
export function septetsOf(character: string): 1 | 2 | null {
  return septets.get(character) ?? null;
}

/** Whether the whole text can be sent in the GSM 7 bit alphabet with its extension table. The empty text can. */
export function isGsm7(text: string): boolean {
  if (plain.test(text)) return true;
  for (const character of text) if (!septets.has(character)) return false;
  return true;
}

/**
 * The text with curly quotes, dashes, special spaces, the ellipsis and the like written in their GSM 7 bit equals, so
 * that one stray sign does not double its price. A text that still needs UCS-2 comes back unfolded (composed to NFC):
 * there the signs cost nothing, and joiners can be part of a word. Idempotent.
 */
export function foldToGsm7(text: string): string {
  if (plain.test(text)) return text;
  const composed = text.normalize('NFC');
  const folded = composed
    .replace(spaces, ' ')
    .replace(/\r\n/g, '\n')
    .replace(/./gsu, (sign) => equals[sign] ?? sign);
  return isGsm7(folded) ? folded : composed;
}

/**
 * For languages that choose it: letters that GSM 7 bit lacks lose their accent (`á` to `a`, `ç` to `c`), those it has
 * keep theirs (`é`, `ñ`, `ü`). Letters without a plain form stay.
 */
export function dropAccentsOutsideGsm7(text: string): string {
  return text.normalize('NFC').replace(/\p{L}/gu, (letter) => {
    if (septets.has(letter)) return letter;
    const plain = letter.normalize('NFD').replace(/[\u0300-\u036f]/g, '');
    return isGsm7(plain) ? plain : letter;
  });
}
