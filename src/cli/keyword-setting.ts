/** The word in front of every text, where the settings name one. It belongs to the network's number, not to the programme. */
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import { Refused } from './open-line.ts';

/** The content with that word, or `Refused` where it is the beginning of a word that people send. */
export function withKeyword(content: Content, { NECKLINE_SMS_KEYWORD: keyword }: Settings): Content {
  if (keyword === undefined) return content;
  const { texts, programme } = content;
  const taken = texts.languages.some(
    ({ tag }) =>
      texts.keyword(tag, keyword) !== null ||
      [...registry.commands.keys()].some((word) => texts.keywordShown(tag, word).startsWith(keyword.toUpperCase())),
  );
  if (taken) throw new Refused('NECKLINE_SMS_KEYWORD: expected a word that begins none of the words of the line');
  return { ...content, programme: { ...programme, keyword } };
}
