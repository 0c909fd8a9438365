/** The files of the page: made from `page/` by the build, read once; the words of the page are put into its frame. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { isRightToLeft } from '../../text/direction.ts';
import { compileTemplate, renderTemplate } from '../../text/render.ts';

const types = {
  '/': ['page.html', 'text/html; charset=utf-8'],
  '/page.css': ['page.css', 'text/css; charset=utf-8'],
  '/page.js': ['page.js', 'text/javascript; charset=utf-8'],
} as const;

export interface PageFile {
  readonly type: string;
  readonly body: string;
}

/**
 * Those of a folder, by path. `words`: of `locales/<tag>/bench.json`, `language`: their tag. Throws where the program was not built, or a word of
 * the frame is missing.
 */
export function pageFiles(
  folder: string,
  words: Readonly<Record<string, string>>,
  language: string,
): ReadonlyMap<string, PageFile> {
  const dir = isRightToLeft(words['scenario-begin'] ?? '') ? 'rtl' : 'ltr';
  return new Map(
    Object.entries(types).map(([path, [name, type]]) => {
      const body = readFileSync(join(folder, name), 'utf8');
      return [
        path,
        {
          type,
          body:
            path === '/'
              ? framed(body, words).replace('<html lang="en">', `<html lang="${language}" dir="${dir}">`)
              : body,
        },
      ];
    }),
  );
}

function framed(html: string, words: Readonly<Record<string, string>>): string {
  return renderTemplate(compileTemplate(html), (key) => {
    const word = words[key];
    if (word === undefined) throw new Error(`locales have no ${key}`);
    return word.replace(/[&<>"]/gu, (sign) => `&#${sign.codePointAt(0)};`);
  });
}
