import { toAsciiDigits } from './digits.ts';

/** Signs that show nothing: bidirectional marks, zero-width space and joiners, soft hyphen, variation selectors, keycap, tatweel. */
const invisible =
  /[\u00ad\u0640\u061c\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]|\u20e3|[\ufe00-\ufe0f]|[\u{e0000}-\u{e007f}]/gu;

/** Accents of Latin, Greek and Cyrillic letters, and Arabic vowel marks. Vowel signs of Indic scripts are letters of the word and stay. */
const accents = /[\u0300-\u036f\u064b-\u065f\u0670]/g;

/** Letters whose stroke or joint Unicode does not decompose. */
const strokes: Readonly<Record<string, string>> = {
  ø: 'o',
  ł: 'l',
  đ: 'd',
  ð: 'd',
  ħ: 'h',
  ŧ: 't',
  ı: 'i',
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  þ: 'th',
};

/**
 * Letters of one sound that keyboards of different countries put in each other's place: ta marbuta and ha, alif maqsura, Farsi
 * yeh and ya, keheh and kaf, heh goal, doachashmee and ha, alif wasla and alif; and the apostrophes of telephones.
 */
const alike: Readonly<Record<string, string>> = {
  ة: 'ه',
  ى: 'ي',
  ی: 'ي',
  ک: 'ك',
  ہ: 'ه',
  ھ: 'ه',
  ٱ: 'ا',
  '’': "'",
  '‘': "'",
  ʼ: "'",
  '`': "'",
  '´': "'",
};

/** Printable ASCII, as nearly every text is: nothing in it is invisible, and only capitals and blanks have a second form. */
const isPlain = (text: string): boolean => /^[ -_a-~]*$/.test(text);

const oneBlank = (text: string): string => (text.includes('  ') ? text.replace(/ {2,}/g, ' ') : text).trim();

/** The text without signs that show nothing, lone surrogates and control characters; those that part words become spaces. */
export function visible(text: string): string {
  if (isPlain(text)) return oneBlank(text);
  return text
    .replace(invisible, '')
    .replace(/\p{Cs}/gu, '')
    .replace(/[\p{Cc}\p{Z}]+/gu, ' ')
    .trim();
}

/**
 * A word or phrase as it is compared: lower case, without accents, digits of every script as ASCII digits, one space
 * between words. Idempotent. Vocabularies hold their words in this form.
 */
export function foldWord(text: string): string {
  if (isPlain(text)) return oneBlank(text.toLowerCase());
  const letters = visible(text).replace(/\p{L}/gu, (letter) => letter.normalize('NFKD'));
  const bare = letters.normalize('NFD').toLowerCase().normalize('NFD').replace(accents, '');
  const plain = bare.replace(/[øłđðħŧıßæœþةىیکہھٱ’‘ʼ`´]/g, (letter) => strokes[letter] ?? alike[letter] ?? letter);
  return visible(toAsciiDigits(plain.normalize('NFC')));
}

/** The words of a text as they are compared, one space between them, without any mark but `%`. */
export function wordsOf(text: string): string {
  return foldWord(text)
    .replace(/[^\p{L}\p{M}\p{N}%]+/gu, ' ')
    .trim();
}
