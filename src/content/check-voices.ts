/** Brief texts: beside a plain one that says the same, with the same digits in the same order, and shorter; none where a hand is on a patient. */
import { toAsciiDigits } from '../text/digits.ts';
import { screensOf } from '../text/screens.ts';
import { countSegments } from '../text/segments.ts';
import type { CheckRegistry } from './check-registry.ts';
import type { Content, FlowSource } from './load.ts';
import { alwaysPlain } from './never-brief.ts';
import type { Problem } from './problem.ts';
import { indexTexts, type TextEntry, typicalText } from './text-index.ts';

/** Problems of the brief texts of all languages. */
export function checkVoices({ sources }: Pick<Content, 'sources'>, registry: CheckRegistry): readonly Problem[] {
  const isPlain = alwaysPlain(sources.flows);
  const inWords = askedInWords(sources.flows);
  return sources.locales.flatMap((locale) =>
    [...indexTexts(locale)].flatMap(([key, entries]) =>
      entries
        .filter(({ voice }) => voice === 'brief')
        .flatMap((brief) => {
          if (isPlain(key)) return [at(brief, 'is plain in both voices', 'remove the brief text')];
          const own = brief.ownKey.replace('_brief', '');
          const plain = entries.find(({ ownKey }) => ownKey === own);
          if (!plain) return [at(brief, 'has no plain text beside it', `write ${own}, or remove it`)];
          return [...differences(plain, brief, inWords.has(key)), ...length(plain, brief, registry)];
        }),
    ),
  );
}

function differences(plain: TextEntry, brief: TextEntry, mayShowFewer: boolean): readonly Problem[] {
  const problems: Problem[] = [];
  const names = ({ template }: TextEntry) => [...template.placeholders].sort().join(', ') || 'none';
  if (names(plain) !== names(brief)) {
    problems.push(at(brief, `has the values ${names(brief)}, the plain text has ${names(plain)}`, 'use the same'));
  }
  const [said, asked] = [numbersOf(brief), numbersOf(plain)];
  if (mayShowFewer ? isWithin(said, asked) : said.join(' ') === asked.join(' ')) return problems;
  const [ours, theirs] = [said, asked].map((all) => all.join(' ') || 'none');
  const what = `has the numbers ${ours}, the plain text has ${theirs}`;
  return [...problems, at(brief, what, 'write the same numbers in the same order')];
}

function length(plain: TextEntry, brief: TextEntry, registry: CheckRegistry): readonly Problem[] {
  const [long, short] = [plain, brief].map(({ template }) => {
    const counts = screensOf(typicalText(template, registry)).map(countSegments);
    const sum = (of: 'units' | 'segments') => counts.reduce((all, one) => all + one[of], 0);
    return { units: sum('units'), segments: sum('segments') };
  }) as [{ units: number; segments: number }, { units: number; segments: number }];
  if (short.units < long.units && short.segments <= long.segments) return [];
  const what = `is not shorter: ${short.units} characters, the plain text has ${long.units}`;
  return [at(brief, what, 'shorten it, or remove it')];
}

/** Questions that are answered in words or figures of one's own: their digits are examples, of which a brief text may show fewer. */
function askedInWords(flows: readonly FlowSource[]): ReadonlySet<string> {
  const states = flows.flatMap(({ flow }) => [...flow.states.values()]);
  return new Set(states.filter(({ ask }) => ask !== null && ask.options.length === 0).map(({ text }) => text));
}

/** Numbers of a text as they stand in it, one after the other, digits of every script alike. */
function numbersOf({ template }: TextEntry): readonly string[] {
  const literal = template.parts.map((part) => (typeof part === 'string' ? part : '\u0000')).join('');
  return toAsciiDigits(literal).match(/\d+(?:[.,]\d+)?/gu) ?? [];
}

/** All of `some` stand in `all`, in their order. */
function isWithin(some: readonly string[], all: readonly string[]): boolean {
  let from = 0;
  return some.every((one) => {
    const at = all.indexOf(one, from);
    from = at + 1;
    return at >= 0;
  });
}

function at({ file, ownKey }: TextEntry, what: string, todo: string): Problem {
  return { file: file.file, line: file.lineOf([ownKey]), path: ownKey, what, todo };
}
