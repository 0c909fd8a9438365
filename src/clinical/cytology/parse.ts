import {
  BETHESDA_NUMERALS,
  type BethesdaNumeral,
  type CanonicalCategory,
  type CytologyCode,
  type ResultSystem,
  systemOf,
  THY_CODES,
  TIR_CODES,
} from './categories.ts';
import { canonicalOf, thyCodesOf } from './crosswalk.ts';

/**
 * Why a text is asked back. `bare-number`, `bare-roman`: the systems' numbers do not line up; `letter-missing`: Thy3,
 * TIR3; `letter-unclear`: a letter apart that may be a word; `two-codes`; `no-such-code`: a system's name with a code it
 * does not have; `unreadable`: no result in it.
 */
export type ResultQuestion =
  | 'bare-number'
  | 'bare-roman'
  | 'letter-missing'
  | 'letter-unclear'
  | 'two-codes'
  | 'no-such-code'
  | 'unreadable';

/** Something to be said with a result that was understood. */
export type ResultNote = 'ask-if-cyst' | 'retired-name' | 'crosswalk-approximate';

/** `said` is the code as typed, `code` as its system writes it, `words` what was written after it. */
export type ParsedResult =
  | {
      readonly ok: true;
      readonly said: string;
      readonly system: ResultSystem;
      readonly code: CytologyCode;
      readonly canonical: CanonicalCategory;
      readonly words: string;
      readonly notes: readonly ResultNote[];
    }
  | {
      readonly ok: false;
      readonly said: string;
      readonly ask: ResultQuestion;
      readonly options: readonly CytologyCode[];
    };

const NAMED = /^(thy|tir|bethesda|beth|b)[\s.:=_-]*(?:(?:category|cat|class)\b[\s.:]*)?(?:(\d+)|([iv]+)(?![a-z]))/i;
// A second number right behind the first: Thy 4/5, Thy4 or 5, Thy4, 5; but not Thy4, 3 slides.
const SECOND_NUMBER =
  /^\s*(?:(?:\/|\+|&|or\b|to\b|and\b|[-–](?=\S))\s*(?:thy|tir|bethesda|b)?\s*(?:\d|[iv]+\b)|[,–-]\s*(?:\d+|[iv]+)(?!\d|[\w.]*\s+[a-z]|[a-z])|\.\d|\s\d+\s*$)/i;
// A second letter: Thy3a/f, Thy3a or f; but not Thy3f - a few cells.
const SECOND_LETTER = /^\s*(?:[/+&–-]|or\b|to\b|and\b)\s*[acf](?![a-z]|\s+[a-z])/i;
const MENTION =
  /\b(?:(?:thy|tir|bethesda|beth)[\s.:=_-]*(?:(?:category|cat|class)\b[\s.:]*)?(?:\d|[iv]+\b)|b[1-6]\b).*$/is;

/**
 * Reads a laboratory's result: the code first, free words after it. Any case and spacing; digits as 0 to 9 (`toAsciiDigits` makes them so). What could mean
 * two categories is asked back with the codes it may have meant, never guessed; `usual` is the laboratory's own system and
 * decides only what a code like `3a`, complete but without a name, belongs to.
 */
export function parseResult(text: string, usual: ResultSystem = 'thy'): ParsedResult {
  const plain = text.trim().replace(/^(?:(?:result|cytology|category)\b)?[\s:=.]*/i, '');
  const retired = /^(?:AUS\s*\/\s*FLUS|FLUS|AUS)(?![a-z])/i.exec(plain);
  if (retired) {
    const notes: ResultNote[] = /flus/i.test(retired[0]) ? ['retired-name'] : [];
    return understood('Bethesda III', retired[0], plain.slice(retired[0].length), notes);
  }
  const named = NAMED.exec(plain);
  if (named) return readNamed(plain, named);
  return readBare(plain, usual);
}

function readNamed(plain: string, named: RegExpExecArray): ParsedResult {
  const word = named[1]!.toLowerCase();
  const system: ResultSystem = word === 'thy' || word === 'tir' ? word : 'bethesda';
  const number = named[2] === undefined ? romanValue(named[3]!) : Number(named[2]);
  const after = plain.slice(named[0].length);
  // "Thy IV" mixes one system's name with the other's numerals.
  if (named[3] !== undefined && system !== 'bethesda') return asked('bare-roman', named[0], optionsFor(number));
  if (named[3] === undefined && /^[a-z]{2}/i.test(after)) return asked('unreadable', plain, []);
  const suffix = readSuffix(system, number, after);
  if (suffix === 'unclear') return asked('letter-unclear', plain, codesOf(system, number));
  const said = plain.slice(0, named[0].length + suffix.length).trim();
  const rest = after.slice(suffix.length);
  const second = SECOND_NUMBER.exec(rest) ?? (suffix.letter === '' ? null : SECOND_LETTER.exec(rest));
  if (second) return asked('two-codes', said + second[0], twoCodes(system, number, second[0]));
  const code = codesOf(system, number).find((each) => endingOf(each) === suffix.letter);
  if (code !== undefined) return understood(code, said, rest, []);
  if (suffix.letter === '' && codesOf(system, number).length > 0) {
    return asked('letter-missing', said, codesOf(system, number));
  }
  return asked('no-such-code', said, hintsFor(system, number, suffix.letter));
}

/** A letter belongs to the code when joined to it, or apart with nothing after it; `Thy3 a few cells` stays unclear. */
function readSuffix(
  system: ResultSystem,
  number: number,
  after: string,
): { letter: string; length: number } | 'unclear' {
  const joined = /^[\s.]*\(([a-z])\)|^([a-z])(?![a-z])|^[\s.-]+([a-z])[\s.!]*$/i.exec(after);
  if (joined) return { letter: (joined[1] ?? joined[2] ?? joined[3])!.toLowerCase(), length: joined[0].length };
  const apart = /^[\s.-]+([a-z])(?![a-z])/i.exec(after)?.[1]?.toLowerCase();
  const possible = codesOf(system, number).map(endingOf);
  return apart !== undefined && possible.includes(apart) ? 'unclear' : { letter: '', length: 0 };
}

function readBare(plain: string, usual: ResultSystem): ParsedResult {
  const lettered = /^([123])([a-z])(?![a-z])/i.exec(plain);
  if (lettered) {
    const number = Number(lettered[1]);
    const letter = lettered[2]!.toLowerCase();
    const rest = plain.slice(lettered[0].length);
    const fits = [...codesOf('thy', number), ...codesOf('tir', number)].filter((code) => endingOf(code) === letter);
    const code = fits.find((each) => systemOf(each) === usual);
    if (SECOND_NUMBER.test(rest) || SECOND_LETTER.test(rest)) return asked('two-codes', plain, optionsFor(number));
    if (code !== undefined) return understood(code, lettered[0], rest, []);
    if (letter === 'b' && number === 3) return asked('letter-unclear', lettered[0], ['Thy3f', 'TIR3B']);
    return fits.length > 0 ? asked('letter-unclear', lettered[0], fits) : asked('no-such-code', lettered[0], []);
  }
  const digits = /^\d+/.exec(plain);
  if (digits) {
    const options = optionsFor(Number(digits[0]));
    return asked(options.length > 0 ? 'bare-number' : 'no-such-code', digits[0], options);
  }
  const roman = /^[iv]+(?![a-z])/i.exec(plain);
  if (roman && optionsFor(romanValue(roman[0])).length > 0) {
    return asked('bare-roman', roman[0], optionsFor(romanValue(roman[0])));
  }
  return asked('unreadable', plain, []);
}

function understood(code: CytologyCode, said: string, rest: string, notes: readonly ResultNote[]): ParsedResult {
  const canonical = canonicalOf(code);
  const mention = MENTION.exec(rest);
  const other = mention && parseResult(mention[0]);
  if (other && !(other.ok && sharesThy(other.canonical, canonical))) {
    return asked('two-codes', `${said}${rest}`.trim(), other.ok ? [code, other.code] : [code, ...other.options]);
  }
  const all: ResultNote[] = [...notes];
  if (code === 'Bethesda I') all.push('ask-if-cyst');
  if (code === 'TIR3B') all.push('crosswalk-approximate');
  const words = rest.replace(/^[\s.,:;=-]+/, '').trim();
  return { ok: true, said, system: systemOf(code), code, canonical, words, notes: all };
}

function asked(ask: ResultQuestion, said: string, options: readonly CytologyCode[]): ParsedResult {
  return { ok: false, said: said.trim(), ask, options: [...new Set(options)] };
}

function sharesThy(one: CanonicalCategory, other: CanonicalCategory): boolean {
  return thyCodesOf(one).some((code) => thyCodesOf(other).includes(code));
}

function codesOf(system: ResultSystem, number: number): readonly CytologyCode[] {
  if (system === 'thy') return THY_CODES.filter((code) => code[3] === String(number));
  if (system === 'tir') return TIR_CODES.filter((code) => code[3] === String(number));
  const numeral = BETHESDA_NUMERALS[number - 1];
  return numeral === undefined ? [] : [`Bethesda ${numeral}`];
}

function endingOf(code: CytologyCode): string {
  return systemOf(code) === 'bethesda' ? '' : code.slice(4).toLowerCase();
}

function optionsFor(number: number): readonly CytologyCode[] {
  return [...codesOf('thy', number), ...codesOf('tir', number), ...codesOf('bethesda', number)];
}

function twoCodes(system: ResultSystem, number: number, second: string): readonly CytologyCode[] {
  const other = /\d+/.exec(second);
  return [...codesOf(system, number), ...(other ? codesOf(system, Number(other[0])) : [])];
}

/** The codes that a slip may have meant: TIR3B said as Thy3b, c for f on a keypad, Bethesda VI said as Thy6. */
function hintsFor(system: ResultSystem, number: number, letter: string): readonly CytologyCode[] {
  if (system === 'thy' && number === 3) return letter === 'b' ? ['Thy3f', 'TIR3B'] : ['Thy3f', 'Thy3a'];
  if (number === 6) return ['Bethesda VI', 'Thy5'];
  return codesOf(system, number);
}

function romanValue(numeral: string): number {
  return BETHESDA_NUMERALS.indexOf(numeral.toUpperCase() as BethesdaNumeral) + 1;
}
