/** The read-back: what was not asked first, then what was said, then what is absent and what was measured. */

import { type AskedPart, answerToPart, partNames, saidOfPart } from '../../case/asked-parts.ts';
import { answerOf } from '../../case/case.ts';
import { nodulesOf, truth } from '../../case/findings-of.ts';
import { goodProbeFromMhz } from '../../clinical/cautions.ts';
import type { OptionId } from '../../generated/option-ids.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { packedScreens } from '../../text/screens.ts';
import type { Moment } from '../moment.ts';
import { whereRedone } from '../traits.ts';
import { isUnseen } from './asked.ts';
import { ageText, listAnswer, textAnswer } from './common.ts';
import {
  bleedingWords,
  brightText,
  label,
  looksText,
  noduleText,
  noduleWithGrowth,
  pregnancyText,
} from './findings-words.ts';

type Line = Exclude<OptionId<'findings-check'>, 'yes' | 'patient'>;
/** Lines that are named where they were not asked, or where nothing of them is known. */
type NamedLine = Exclude<Line, 'sizes'>;

/** What is read back, by what it is; each already in words with its number. */
interface Lines {
  readonly notAsked: string[];
  readonly notKnown: string[];
  readonly said: string[];
  readonly none: string[];
  readonly more: string[];
}

/** Screens of the read-back, each complete alone; the last one says how to answer. */
export function checkScreens(moment: Moment): string {
  if (!moment.case) return '';
  const lines: Lines = { notAsked: [], notKnown: [], said: [], none: [], more: [] };
  for (const part of partNames) addPart(moment, part, lines);
  addExamined(moment, lines);
  addTsh(moment, lines);
  addUltrasound(moment, lines);
  const lumps = nodulesOf(moment.case);
  for (const id of lumps) lines.more.push(...noduleLines(moment, id));
  if (lumps.some((id) => solidPart(moment, id) === 'unknown')) lines.notKnown.push(named(moment, 'inside'));
  if (lumps.some((id) => isUnseen(moment, 'features', id))) lines.notKnown.push(named(moment, 'looks'));
  if (lumps.some((id) => isUnseen(moment, 'foci', id))) lines.notKnown.push(named(moment, 'bright'));
  if (answerOf(moment.case, 'nodules')?.length === 0) {
    lines.more.push(sentence(moment, 'sizes', words(moment, 'new.check-no-lump', '')));
  }
  const listed = (
    name: 'does-not-fit' | 'not-asked' | 'not-known' | 'none',
    all: readonly string[],
  ): readonly string[] => (all.length === 0 ? [] : [words(moment, `new.check-${name}`, all.join('; '))]);
  const items = [
    ...listed('does-not-fit', feltElsewhere(moment)),
    ...listed('not-asked', lines.notAsked),
    ...listed('not-known', lines.notKnown),
    ...lines.said,
    ...listed('none', lines.none),
    ...lines.more,
  ];
  const head = words(moment, 'new.check-head', '');
  return packedScreens(head, words(moment, 'new.check-next', ''), items, words(moment, 'new.check-end', ''));
}

/** A text of the read-back: `{words}` in it, and who the patient is. */
function words(moment: Moment, key: TextKey, shown: string): string {
  const of = moment.case!;
  const values: Readonly<Record<string, string>> = {
    words: shown,
    tag: of.tag,
    sex: label(moment, 'sex', textAnswer(moment, 'patient.sex')),
    born: ageText(moment),
    pregnancy: pregnancyText(moment),
  };
  return moment.world.texts.render(moment.person.locale, key, (name) => values[name] ?? '', moment.voice);
}

/** `C4 family`: the reply that changes a line, and what it is about. */
function named(moment: Moment, line: NamedLine): string {
  return `${numberOf(moment, line)} ${words(moment, `new.line-${line}`, '')}`;
}

function numberOf(moment: Moment, line: Line): string {
  const check = whereRedone(moment.world.flows, 'findings')?.state.ask;
  return check?.options.find((one) => one.id === line)?.reply ?? '';
}

function sentence(moment: Moment, line: Line, shown: string): string {
  return `${numberOf(moment, line)} ${shown}.`;
}

/** Words for what was said of this part, asked or not. */
export function partWords(moment: Moment, part: AskedPart): readonly string[] {
  if (part === 'bleeding') return bleedingWords(moment);
  const ids = saidOfPart(moment.case?.answers ?? {}, part);
  const beside = part === 'lump' ? listAnswer(moment, 'lump').filter((id) => id !== 'unknown') : [];
  return [...ids, ...beside].map((id) => label(moment, part === 'family' ? 'risks' : 'dangerSigns', id));
}

function addPart(moment: Moment, part: AskedPart, lines: Lines): void {
  const asked = answerToPart(moment.case!, part);
  const said = partWords(moment, part);
  if (said.length > 0) lines.said.push(sentence(moment, part, words(moment, 'new.check-yes', said.join(', '))));
  if (asked === null) lines.notAsked.push(named(moment, part));
  else if (asked.includes('unknown')) lines.notKnown.push(named(moment, part));
  else if (said.length === 0) lines.none.push(named(moment, part));
}

function addExamined(moment: Moment, lines: Lines): void {
  const examined = answerOf(moment.case!, 'examined');
  if (examined === false) {
    lines.more.push(sentence(moment, 'felt', label(moment, 'examined', 'not-examined')));
    return;
  }
  // Examined, and nobody said what was felt: that is not "not felt".
  if (examined !== true || !Array.isArray(answerOf(moment.case!, 'felt'))) {
    lines.notAsked.push(named(moment, 'felt'));
    return;
  }
  const sides = listAnswer(moment, 'felt').map((id) => label(moment, 'side', id));
  const shown =
    sides.length === 0 ? label(moment, 'examined', 'not-felt') : words(moment, 'new.check-felt', sides.join(', '));
  lines.more.push(sentence(moment, 'felt', shown));
}

/** Sides where a lump was felt and none was measured, though one was measured elsewhere: a needle must know which it is. */
function feltElsewhere(moment: Moment): readonly string[] {
  const measured = nodulesOf(moment.case!).map((id) => textAnswer(moment, 'site', id));
  if (measured.length === 0) return [];
  const alone = listAnswer(moment, 'felt').filter((side) => !measured.includes(side));
  return alone.map((side) => label(moment, 'side', side));
}

function addTsh(moment: Moment, lines: Lines): void {
  const tsh = textAnswer(moment, 'tsh');
  if (tsh === '') lines.notAsked.push(named(moment, 'tsh'));
  else if (tsh === 'unknown') lines.notKnown.push(named(moment, 'tsh'));
  const scan = textAnswer(moment, 'scan');
  const level = tsh === '' || tsh === 'unknown' ? [] : [words(moment, 'new.tsh-is', label(moment, 'tsh', tsh))];
  const signs = truth(answerOf(moment.case!, 'overactiveSigns'));
  const overactive =
    typeof signs === 'boolean' ? [words(moment, signs ? 'new.check-overactive' : 'new.check-not-overactive', '')] : [];
  const all = [...level, ...overactive, ...(scan === '' ? [] : [label(moment, 'scan', scan)])];
  if (all.length > 0) lines.more.push(sentence(moment, 'tsh', all.join(', ')));
}

function addUltrasound(moment: Moment, lines: Lines): void {
  const done = answerOf(moment.case!, 'ultrasound.done');
  if (done === undefined || done === null) lines.notAsked.push(named(moment, 'ultrasound'));
  else lines.more.push(sentence(moment, 'ultrasound', ultrasoundWords(moment)));
}

/** How the ultrasound was done, or that it was not; '' where nobody was asked. */
export function ultrasoundWords(moment: Moment): string {
  const done = moment.case ? answerOf(moment.case, 'ultrasound.done') : null;
  if (done === undefined || done === null) return '';
  const here = textAnswer(moment, 'ultrasound.here') === 'yes' ? 'not-done-yet' : 'no-ultrasound';
  if (done !== true) return label(moment, 'ultrasound.done', here);
  const mhz = answerOf(moment.case!, 'ultrasound.mhz');
  // The question names the frequency from which a linear probe counts: no word on it means that one.
  const told = typeof mhz === 'number' && mhz !== goodProbeFromMhz ? [words(moment, 'new.check-mhz', String(mhz))] : [];
  return [probeWords(moment), ...told].join(' ');
}

/** The probe and the pad as far as they were said. */
function probeWords(moment: Moment): string {
  const pad = truth(answerOf(moment.case!, 'ultrasound.standoff'));
  const probe = textAnswer(moment, 'ultrasound.probe');
  const padSaid = typeof pad === 'boolean' ? words(moment, pad ? 'new.check-pad' : 'new.check-no-pad', '') : '';
  if (probe === 'linear') {
    // A pad under a linear probe changes nothing, and is said where somebody said it.
    return [label(moment, 'ultrasound.done', 'linear'), padSaid].filter((one) => one !== '').join(', ');
  }
  if (probe !== 'other')
    return [words(moment, 'new.check-probe-open', ''), padSaid].filter((one) => one !== '').join(', ');
  if (typeof pad !== 'boolean') return words(moment, 'new.check-pad-open', '');
  return label(moment, 'ultrasound.done', pad ? 'other-with-pad' : 'other-without-pad');
}

/** The largest size of a lump's solid part, mm; unknown where a mixed one was asked for it, null where it was not. */
function solidPart(moment: Moment, id: string): number | 'unknown' | null {
  const part = answerOf(moment.case!, 'solidPartMm', id) ?? null;
  return part === 'unknown' && textAnswer(moment, 'composition', id) !== 'mixed' ? null : part;
}

function insideText(moment: Moment, id: string): string {
  const part = solidPart(moment, id);
  const inside = label(moment, 'composition', textAnswer(moment, 'composition', id));
  const size = typeof part === 'number' ? [words(moment, 'new.check-solid-part', String(part))] : [];
  const aside = truth(answerOf(moment.case!, 'eccentric', id));
  const place =
    typeof aside === 'boolean' ? [words(moment, aside ? 'new.check-eccentric' : 'new.check-central', '')] : [];
  return [inside, ...size, ...place].filter((one) => one !== '').join(' ');
}

/** Characters of one lump's findings that fit a screen with the tag before them. */
const lumpFits = 130;

/** One lump: side and size, whether it is felt where that was asked, what is inside; how it looks and what shines in it. */
function noduleLines(moment: Moment, id: string): readonly string[] {
  const felt = textAnswer(moment, 'palpable', id);
  const measured = [noduleWithGrowth(moment, id), felt === '' ? '' : label(moment, 'feltHere', felt)];
  const found = numbered(moment, [
    ['sizes', measured.filter((one) => one !== '').join(' ')],
    ['inside', insideText(moment, id)],
  ]);
  const seen = numbered(moment, [
    ['looks', absentSaid(moment, 'features', looksText(moment, id), 'new.check-no-looks')],
    ['bright', absentSaid(moment, 'foci', brightText(moment, id), 'new.check-no-bright')],
  ]);
  const whole = `${[...found, ...seen].join(', ')}.`;
  if (whole.length <= lumpFits) return [whole];
  return [`${found.join(', ')}.`, `${noduleText(moment, id)}: ${seen.join(', ')}.`];
}

/** `none` alone says nothing of what: in its place what was looked for and is not there. */
function absentSaid(moment: Moment, field: 'features' | 'foci', shown: string, none: TextKey): string {
  return shown === label(moment, field, 'none') ? words(moment, none, '') : shown;
}

function numbered(moment: Moment, parts: readonly (readonly [Line, string])[]): readonly string[] {
  return parts.filter(([, text]) => text !== '').map(([line, text]) => `${numberOf(moment, line)} ${text}`);
}
