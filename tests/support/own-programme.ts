import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '../../src/content/load.ts';

const usual = { '"bench:voice"': '"+000555010090"', 'languages: all': 'languages: [en]' };

/**
 * A programme of one's own in this folder, whose people read English: the invented one with a number of its own, and what else is
 * replaced. Each command reads the languages of its programme anew.
 */
export function ownProgramme(folder: string, replaced: Readonly<Record<string, string>> = {}): string {
  let text = readFileSync(join(packageRoot, 'flows', 'programme.yaml'), 'utf8');
  for (const [piece, by] of Object.entries({ ...usual, ...replaced })) {
    if (!text.includes(piece)) throw new Error(`the programme has no ${piece}`);
    text = text.replace(piece, by);
  }
  const file = join(folder, 'programme.yaml');
  writeFileSync(file, text);
  return file;
}
