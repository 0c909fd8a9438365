// Writes down from which English the texts of a language were made: `npm run translated -- fr` what is new in it, with keys
// (`new.breathing`) those too, with `all` everything.
import { writeFileSync } from 'node:fs';
import { olderThanEnglish, recordedEnglish } from '../src/cli/older-english.ts';
import { packageRoot } from '../src/content/load.ts';
import { fromEnglish, fromEnglishSource, localeSources } from '../src/content/locale-sources.ts';

const [tag = '', ...keys] = process.argv.slice(2);
const [english, own] = [localeSources(packageRoot, 'en'), localeSources(packageRoot, tag)];
if (tag === '' || tag === 'en' || own.size === 0) {
  console.error('npm run translated -- LANGUAGE [KEY ... | all]');
  process.exit(2);
}
const file = `${packageRoot}locales/${tag}/${fromEnglish}.json`;
const text = recordedEnglish(
  english,
  own,
  fromEnglishSource(packageRoot, tag),
  keys[0] === 'all' ? 'all' : new Set(keys),
);
writeFileSync(file, text);
const older = olderThanEnglish(english, own, text);
console.log(
  `${tag}: ${older.length} changed, or their English, since they were compared${older.length > 0 ? `: ${older.join(' ')}` : ''}`,
);
