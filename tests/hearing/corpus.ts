import { readFileSync } from 'node:fs';

export interface CorpusLine {
  readonly is: 'sos' | 'now' | 'soon' | '-';
  readonly text: string;
}

/** Lines of `<language>.txt`: what a text is, and the text. */
export function corpusOf(language: string): readonly CorpusLine[] {
  const file = readFileSync(new URL(`./${language}.txt`, import.meta.url), 'utf8');
  return file.split('\n').flatMap((line) => {
    const found = /^(sos|now|soon|-) (.+)$/.exec(line);
    if (found) return [{ is: found[1] as CorpusLine['is'], text: found[2]! }];
    if (line !== '' && !line.startsWith('#')) throw new Error(`no corpus line: ${line}`);
    return [];
  });
}
