/** What a text can give to a question at the very most, read without the product's readers: by digits, and by words of an option. */
import type { OpenAsk } from '../../../src/conversation/state.ts';
import { shipped } from '../../support/shipped.ts';

const bare = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}|['’`]/gu, '')
    .toLowerCase();

const wordsOf = (text: string): readonly string[] => bare(text).match(/[\p{L}\p{N}]+/gu) ?? [];

/** Words that stand in options of every kind and give nothing by themselves. */
const hollow = new Set(
  'a an and as at be by can do does for from go has have her his i in is it its me my not of on or so that the them then they this to was we with you your patient'.split(
    ' ',
  ),
);

/** Ids of the question's options that some digit or word of the text may stand for. */
export function givenOptions(ask: OpenAsk, text: string): ReadonlySet<string> {
  const said = wordsOf(text);
  const runs = said.filter((one) => /\d/.test(one));
  return new Set(
    ask.options
      .filter(({ id, reply }) => {
        const replies = bare(reply).split(' ');
        if (replies.every((one) => said.includes(one)) || said.join('') === bare(reply)) return true;
        if (reply.length === 1 && runs.some((run) => run.includes(bare(reply)))) return true;
        // `1112`, `11,12`: numbers of two digits in one run.
        if (/^\d{2}$/.test(reply) && runs.some((run) => run.match(/\d{2}/g)?.includes(reply))) return true;
        const own = [
          ...shipped.texts.words('en', ask.field, id),
          shipped.texts.label('en', ask.field, id),
          id.replaceAll('-', ' '),
        ];
        return own.some((one) => sharesWord(wordsOf(one), said));
      })
      .map((one) => one.id),
  );
}

/** An option of one short word (`no`) is given by that word; a longer one by any of its words that says something. */
function sharesWord(option: readonly string[], said: readonly string[]): boolean {
  if (option.length === 1) return said.includes(option[0]!);
  return option.some((word) => !hollow.has(word) && word.length > 1 && said.some((one) => alike(one, word)));
}

const alike = (one: string, other: string): boolean =>
  one === other || (one.length > 3 && other.length > 3 && one.slice(0, 4) === other.slice(0, 4));

const dayWords =
  /\b(today|tomorrow|mon|tue|wed|thu|fri|sat|sun|monday|tuesday|wednesday|thursday|friday|saturday|sunday|week|weeks|month)\b/;

/** True: something that this kind of question asks for may stand in the text. */
export function mayAnswer(ask: OpenAsk, text: string): boolean {
  if (givenOptions(ask, text).size > 0) return true;
  switch (ask.kind) {
    case 'text':
      return ask.field === 'words' || ask.field === 'question' || /\d|\b(today|now)\b/.test(bare(text));
    case 'date':
      return /\d/.test(text) || dayWords.test(bare(text));
    case 'choice':
    case 'choices':
      return false;
    default:
      return /\d/.test(text.normalize('NFKD'));
  }
}
