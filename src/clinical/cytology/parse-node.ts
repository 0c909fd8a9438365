import { NODE_CODES, type NodeCode } from './nodes.ts';

/**
 * Why a node's result is asked back: a number without the L; a Roman numeral, which may be a level of the neck; two codes; an L
 * with a number that is none; a thyroid category; nothing that can be read.
 */
export type NodeQuestion = 'bare-number' | 'bare-roman' | 'two-codes' | 'no-such-code' | 'thyroid-code' | 'unreadable';

/** `said` is the code as typed, `words` what was written after it. */
export type ParsedNodeResult =
  | { readonly ok: true; readonly said: string; readonly code: NodeCode; readonly words: string }
  | { readonly ok: false; readonly said: string; readonly ask: NodeQuestion; readonly options: readonly NodeCode[] };

const THYROID = /\b(?:thy|tir|bethesda|beth)[\s.:=_-]*(?:\d|[iv]+\b)|^b[1-6]\b|\b(?:AUS|FLUS)\b/i;
const CODE = /^l[\s.:=_-]*(\d+)(?![\d])/i;
const SECOND = /^\s*(?:(?:\/|\+|&|or\b|to\b|and\b|[-–](?=\S)|,)\s*l?\s*\d+(?!\d|[\w.]*\s*[a-z])|\.\d|\s\d+\s*$)/i;

/** Whether a text says a node's category: a thyroid specimen refuses it. */
export function saysNodeCode(text: string): boolean {
  return /^(?:(?:result|cytology|category)\b[\s:=.]*)?l[\s.:=_-]*[1-5](?![\d])/i.test(text.trim());
}

/** Reads a laboratory's result of a lymph node: `L2 tuberculosis`. Digits as 0 to 9. What could mean two things is asked back. */
export function parseNodeResult(text: string): ParsedNodeResult {
  const plain = text.trim().replace(/^(?:(?:result|cytology|category)\b)?[\s:=.]*/i, '');
  if (THYROID.test(plain)) return asked('thyroid-code', plain, []);
  const named = CODE.exec(plain);
  if (!named) return unnamed(plain);
  const rest = plain.slice(named[0].length);
  const said = named[0].trim();
  const code = NODE_CODES.find((one) => one === `L${Number(named[1])}`);
  if (SECOND.test(rest)) return asked('two-codes', `${said}${rest}`, [...NODE_CODES]);
  if (code === undefined) return asked('no-such-code', said, [...NODE_CODES]);
  const other = /\bl[\s-]*([1-5])(?!\d)/i.exec(rest);
  if (other && `L${other[1]}` !== code) return asked('two-codes', plain, [code, `L${other[1]}` as NodeCode]);
  return { ok: true, said, code, words: rest.replace(/^[\s.,:;=-]+/, '').trim() };
}

function unnamed(plain: string): ParsedNodeResult {
  const digits = /^\d+/.exec(plain)?.[0];
  if (digits !== undefined) {
    const meant = NODE_CODES.filter((one) => one === `L${Number(digits)}`);
    return asked(meant.length > 0 ? 'bare-number' : 'no-such-code', digits, meant.length > 0 ? meant : [...NODE_CODES]);
  }
  if (/^(?:l\s*|level\s*)?[iv]+(?![a-z])/i.test(plain)) return asked('bare-roman', plain, [...NODE_CODES]);
  return asked('unreadable', plain, []);
}

function asked(ask: NodeQuestion, said: string, options: readonly NodeCode[]): ParsedNodeResult {
  return { ok: false, said: said.trim(), ask, options };
}
