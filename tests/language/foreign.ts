import type { Content } from '../../src/content/load.ts';
import { answerLetters } from './made-up.ts';

/**
 * Notations that laboratories and published systems share in every language, sizes, tags of questions, slides in a row, levels of
 * the neck, and the N of a neck node before its side or number, as it is pencilled.
 */
const notations =
  /(?<![\p{L}])(?:Thy\d[a-f]?|L[1-5]|TIR\d[AB]?|Bethesda(?: [IV]+)?|TR\d|Q\d{2,6}|S\d{1,2}|[A-Z]{2,3}\d{2}(?:-\d)?|[IV]{1,3})(?![\p{L}])|(?<=\d)x(?=\d)|(?<![\p{L}])N(?=\p{L})/gu;

/** Names that a programme chose, whatever language its people read. */
function namesOf({ programme }: Content): readonly string[] {
  const sites = programme.sites.flatMap(({ id, name, hospital, night }) => [id, name, hospital, night]);
  const laboratories = programme.laboratories.flatMap(({ id, name, address, marking }) => [id, name, address, marking]);
  const own = [programme.name, programme.hospital, programme.night, programme.voiceNumber, ...sites, ...laboratories];
  // A sentence may begin with one.
  return own.flatMap((one) => [one, one.charAt(0).toUpperCase() + one.slice(1)]);
}

/** Answers as the structure of the conversations has them, e.g. YES. */
function repliesOf({ flows }: Content): readonly string[] {
  const asks = [...flows.newest.values()].flatMap((flow) =>
    [...flow.states.values()].flatMap((state) => state.ask ?? []),
  );
  return asks.flatMap((ask) => ask.options.map((one) => one.reply)).filter((reply) => /^[A-Z]{2,}$/u.test(reply));
}

/** What people said in their own words: the end of a text, from any word on; names of a shared phone one by one; a tag. */
function ownWords(typed: readonly string[]): readonly string[] {
  return typed.flatMap((text) => {
    const words = text.split(' ');
    const ends = words.map((_, at) => words.slice(at).join(' '));
    const tag = /^(?:NEW\s+)?([A-Z]{1,3})\s/u.exec(text)?.[1];
    return [...ends, ...ends.flatMap((end) => end.split('/')), ...(tag ? [tag] : [])];
  });
}

/** Finds what stands in a text in English letters and was neither said by somebody nor is a name, a tag or a notation. */
export function foreignIn(
  content: Content,
  spoken: { readonly typed: readonly string[]; readonly names: readonly string[] },
): (text: string) => readonly string[] {
  const all = [...namesOf(content), ...spoken.names, ...repliesOf(content), ...ownWords(spoken.typed)];
  const known = [...new Set(all.map((one) => one.trim()))].filter((one) => /[a-z]/iu.test(one));
  known.sort((a, b) => b.length - a.length);
  const forms = known.map((one) => one.replace(/[.*+?^${}()|[\]\\]/gu, '\\$&')).join('|');
  const allowed = new RegExp(`(?<![\\p{L}])(?:${forms})(?![\\p{L}])`, 'gu');
  const letter = new RegExp(`^[${answerLetters}]$`, 'u');
  return (text) =>
    (
      text
        // What somebody said is quoted as it was said, and cut where it is long.
        .replace(/"[^"]*"/gu, '#')
        .replace(allowed, '#')
        .replace(notations, '#')
        .match(/[A-Za-z]+/gu) ?? []
    ).filter((run) => !letter.test(run));
}
