import type { FluidLook } from '../clinical/fluid.ts';
import type { Technique } from '../clinical/supplies.ts';
import { isFigure } from '../text/time-words.ts';
import { formatCode } from './code.ts';
import type { NodePlace } from './target.ts';

/** Characters that a line of the label may hold, for the side of a small jar. */
export const LABEL_LINE_LENGTH = 28;

/** Characters of a site's name that the label shows; a longer one is cut. */
const LABEL_SITE_LENGTH = 50;

/** A calendar day. */
export type LabelDay = { readonly year: number; readonly month: number; readonly day: number };

/** How slides of one jar or box were fixed. */
export type LabelFixation = 'alcohol' | 'spray' | 'dried';

/**
 * The person on the label. `by-hand`: name and birth date are blanks to be written, with the birth year where it is known
 * and not where only an age is. `in-chat`: as asked and stored by the programme; not for SMS.
 */
export type LabelPerson =
  | { readonly mode: 'by-hand'; readonly birthYear: number | null }
  | { readonly mode: 'in-chat'; readonly name: string; readonly born: LabelDay };

/** What a label shows. Sizes in mm, one to three; slide numbers from 1. */
export type Label = {
  readonly code: string;
  readonly person: LabelPerson;
  readonly taken: LabelDay;
  readonly technique: Technique;
  readonly side: 'right' | 'left' | 'isthmus';
  /** Tells two lumps of one side apart. */
  readonly place: 'upper' | 'lower' | null;
  /** A lymph node of the neck with where it lies (null: not said); null for a lump of the thyroid. */
  readonly node: { readonly level: NodePlace | null } | null;
  readonly mm: readonly number[];
  /** Fluid that goes along in a tube of its own. */
  readonly fluids: readonly { readonly ml: number; readonly look: FluidLook }[];
  readonly slides: readonly { readonly numbers: readonly number[]; readonly fixation: LabelFixation }[];
  readonly slidesInAll: number;
  readonly site: string;
};

/** The words of a label in one language; capital Latin letters keep it within two SMS segments. */
export type LabelWords = {
  readonly name: string;
  readonly born: string;
  readonly taken: string;
  readonly months: readonly string[];
  readonly capillary: string;
  readonly aspiration: string;
  readonly thyroid: string;
  readonly node: string;
  readonly sides: { readonly [side in Label['side']]: string };
  readonly places: { readonly upper: string; readonly lower: string };
  readonly aboveCollarbone: string;
  readonly mm: string;
  readonly fluid: string;
  readonly ml: string;
  readonly looks: { readonly [look in FluidLook]: string };
  readonly slides: string;
  readonly of: string;
  readonly fixations: { readonly [fixation in LabelFixation]: string };
};

/**
 * Gives the lines of the label, each at most 28 characters; in mode `by-hand` with Latin words and site, all together at
 * most two GSM-7 segments (306 characters) for up to ten slides. Elements: identity, sampling date, site, side (CLSI
 * AUTO12; Stanford FNAMISCF), size and fixation (our convention).
 */
export function labelLines(label: Label, words: LabelWords): readonly string[] {
  const technique = label.technique === 'capillary' ? words.capillary : words.aspiration;
  const site = Array.from(label.site.trim()).slice(0, LABEL_SITE_LENGTH).join('');
  return [
    formatCode(label.code),
    ...wrap(nameLine(label.person, words)),
    ...wrap(bornLine(label.person, words)),
    ...wrap(`${words.taken} ${dayInWords(label.taken, words)}`),
    ...placeLines(technique, label, words),
    ...wrap(`${label.mm.map(String).join('x')} ${words.mm}`),
    ...label.slides.flatMap((group) =>
      wrap(
        `${words.slides} ${ranges(group.numbers)} ${words.of} ${label.slidesInAll} ${words.fixations[group.fixation]}`,
      ),
    ),
    ...fluidLines(label.fluids, words),
    ...wrap(site),
  ].filter((line) => line !== '');
}

/** `THYROID RIGHT UPPER`: where the label says that it comes from; asked aloud when slides, jar and patient are compared. */
export function labelledPlace(
  { side, place, node }: Pick<Label, 'side' | 'place' | 'node'>,
  words: LabelWords,
): string {
  const level = node?.level === 'low' ? words.aboveCollarbone : (node?.level ?? null);
  const beside = node === null ? (place === null ? null : words.places[place]) : level;
  return [node === null ? words.thyroid : words.node, words.sides[side], ...(beside === null ? [] : [beside])].join(
    ' ',
  );
}

/** `FLUID 6+4 ML BROWN`: tubes whose fluid looks the same stand on one line. */
function fluidLines(fluids: Label['fluids'], words: LabelWords): readonly string[] {
  return [...new Set(fluids.map(({ look }) => look))].flatMap((look) => {
    const each = fluids.filter((one) => one.look === look).map(({ ml }) => ml);
    return wrap(`${words.fluid} ${each.join('+')} ${words.ml} ${words.looks[look]}`);
  });
}

/** A node stands on a line of its own, so that nobody takes it for the thyroid. */
function placeLines(technique: string, label: Label, words: LabelWords): readonly string[] {
  const place = labelledPlace(label, words);
  return label.node === null ? wrap(`${technique} ${place}`) : [...wrap(technique), ...wrap(place)];
}

function nameLine(person: LabelPerson, words: LabelWords): string {
  if (person.mode === 'in-chat') return `${words.name} ${person.name.trim()}`;
  return `${words.name} `.padEnd(Math.min(LABEL_LINE_LENGTH, words.name.length + 21), '_');
}

function bornLine(person: LabelPerson, words: LabelWords): string {
  if (person.mode === 'in-chat') return `${words.born} ${dayInWords(person.born, words)}`;
  return `${words.born} ___/___/${person.birthYear ?? '______'}`;
}

function dayInWords(day: LabelDay, words: LabelWords): string {
  const month = words.months[day.month - 1] ?? '___';
  const between = isFigure(month) ? '/' : ' ';
  return [day.day, month, day.year].join(between);
}

/** Slide numbers with runs drawn together: 1-4, or 1,3. */
function ranges(numbers: readonly number[]): string {
  const sorted = [...numbers].sort((a, b) => a - b);
  const runs: [number, number][] = [];
  for (const number of sorted) {
    const last = runs.at(-1);
    if (last !== undefined && number <= last[1] + 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from}-${to}`)).join(',');
}

/** Breaks at spaces, and inside a word only when it is longer than a line. */
function wrap(text: string): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    const letters = Array.from(word);
    for (let from = 0; from < letters.length; from += LABEL_LINE_LENGTH) {
      const piece = letters.slice(from, from + LABEL_LINE_LENGTH).join('');
      const joined = line === '' ? piece : `${line} ${piece}`;
      if (Array.from(joined).length <= LABEL_LINE_LENGTH) {
        line = joined;
      } else {
        lines.push(line);
        line = piece;
      }
    }
  }
  if (line !== '') lines.push(line);
  return lines;
}
