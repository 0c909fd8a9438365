/** How the replies about findings are read into the fields that the clinical rules know. */

import { type FurtherAnswers, itemKey } from '../../case/answers.ts';
import { answerOf } from '../../case/case.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import { goodProbeFromMhz } from '../../clinical/cautions.ts';
import { foldWord } from '../../text/fold.ts';
import { read, type ShownOption, unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readDiameters, unlikelyTogether } from '../answers/diameters.ts';
import { readNumber } from '../answers/number.ts';
import { readPatient } from '../answers/patient.ts';
import type { QuickVocabulary } from '../answers/quick-vocabulary.ts';
import { tidy } from '../answers/reply.ts';
import type { Moment, Reader } from '../moment.ts';
import { limitOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { listAnswer, sideOf, textAnswer, twoSizesOf, zoneOf } from './common.ts';
import { fociOf, isWeak, kept, looksOf, seenByProbe } from './described-looks.ts';
import { sizeFields } from './measured-nodules.ts';
import { isSaidOf } from './next-of-nodule.ts';
import { optionsOf } from './shown-options.ts';
import { listed, signsReaders } from './signs-readers.ts';

export { optionsOf };

/** Words of the quick text in the person's language, English where it has none. */
export function vocabularyOf(moment: Moment): QuickVocabulary {
  const { quick } = moment.world;
  return quick.get(moment.person.locale) ?? quick.get('en')!;
}

/** The number 9 alone means cannot tell; nine itself is sent with its unit or a point. */
function numberOr9(
  least: number,
  most: number,
  decimals: number,
  unitsOf: readonly string[] | ((m: Moment) => readonly string[]),
): Reader {
  return (text, m) => {
    if (tidy(text) === '9') return { ok: true, value: { value: 'unknown' } };
    const units = typeof unitsOf === 'function' ? unitsOf(m) : unitsOf;
    const got = readNumber(text, { min: least, max: most, decimals, units });
    return got.ok ? { ok: true, value: { value: got.value } } : got;
  };
}

/** The words of a unit of time, as people write it behind a figure. */
function timeUnit(unit: 'day' | 'hour'): (m: Moment) => readonly string[] {
  return ({ world, person }) => world.texts.words(person.locale, 'time-unit', unit);
}

function only<T extends string>(ids: readonly string[], among: readonly T[]): readonly T[] {
  return ids.flatMap((id) => among.find((one) => one === id) ?? []);
}

const ultrasoundAnswers: Readonly<Record<string, { readonly value: boolean; readonly fields: FurtherAnswers }>> = {
  // The question names the frequency from which a linear probe counts.
  linear: {
    value: true,
    fields: { 'ultrasound.probe': 'linear', 'ultrasound.mhz': goodProbeFromMhz, 'ultrasound.standoff': null },
  },
  'other-with-pad': {
    value: true,
    fields: { 'ultrasound.probe': 'other', 'ultrasound.mhz': null, 'ultrasound.standoff': 'yes' },
  },
  'other-without-pad': {
    value: true,
    fields: { 'ultrasound.probe': 'other', 'ultrasound.mhz': null, 'ultrasound.standoff': 'no' },
  },
  'not-done-yet': { value: false, fields: { 'ultrasound.here': 'yes' } },
  'no-ultrasound': { value: false, fields: { 'ultrasound.here': 'no' } },
};

/** All right is OK and nothing else: a yes could be meant for another question. */
function readBackOptions(moment: Moment): readonly ShownOption[] {
  return optionsOf(moment).map((one) =>
    one.id === 'yes' ? { ...one, words: one.words.filter((word) => word !== one.id) } : one,
  );
}

/** What was said before and speaks for care: "cannot tell" on a second look takes nothing of it back, and leaves no comfort. */
const staysKnown = { tsh: ['low'], composition: ['solid', 'mixed', 'obscured'] } as const;

/** The answer of before where this one is "cannot tell" and that one stays; else null. */
function stays(moment: Moment, field: keyof typeof staysKnown, said: string): string | null {
  const before = textAnswer(moment, field, field === 'tsh' ? null : moment.frame.item);
  const kept: readonly string[] = staysKnown[field];
  return said === 'unknown' && kept.includes(before) ? before : null;
}

export const readers: Readonly<Record<string, Reader>> = {
  patient: (text, m) => {
    const got = readPatient(text, vocabularyOf(m).patient, localTime(m.now, zoneOf(m)).year);
    if (!got.ok) return got;
    // Initials may be a command's word (`DR 1955 F`); only NEW begins a line of its own like this one.
    const first = foldWord(/^\s*([^\s,;:]+)/u.exec(text)?.[1] ?? '');
    const isNew = m.world.texts.keyword(m.person.locale, first) === 'NEW';
    return { ok: true, value: { value: { ...got.value }, ...(isNew ? {} : { exact: true }) } };
  },
  ...signsReaders,
  inr: numberOr9(0.5, 20, 1, ['inr']),
  // Said in days, kept in hours as the rules read it.
  'inr-days': (text, m) => {
    const got = numberOr9(0, 365, 0, timeUnit('day'))(text, m);
    if (!got.ok || typeof got.value.value !== 'number') return got;
    return { ok: true, value: { value: got.value.value * 24 } };
  },
  platelets: numberOr9(1, 1500, 1, []),
  'drip-hours': numberOr9(0, 720, 0, timeUnit('hour')),
  'solid-part': (text, m) => {
    const got = numberOr9(1, 150, 1, ['mm'])(text, m);
    const whole = m.frame.item === null ? null : answerOf(m.case!, 'mm', m.frame.item);
    // A part is no larger than the whole.
    const isLarger = got.ok && Array.isArray(whole) && Number(got.value.value) > Math.max(...whole);
    return isLarger ? unreadable('out-of-range') : got;
  },
  weeks: (text, m) => {
    if (tidy(text) === '0') return { ok: true, value: { value: 'unknown' } };
    const got = readNumber(text, { min: 1, max: 42, decimals: 0, units: vocabularyOf(m).patient.weeks });
    return got.ok ? { ok: true, value: { value: got.value } } : got;
  },
  examined: (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    const ids = got.value;
    const sides = only(ids, ['right', 'left', 'isthmus']);
    if (ids.length > 1 && sides.length !== ids.length) return unreadable('one-only');
    // "Not examined yet" is no "cannot tell": it takes back that a hand has felt something, and the examination is asked for.
    const examined = !ids.includes('not-examined');
    // Felt somewhere else now: which of the lumps it is, is not known any more.
    const of = m.case;
    const which = of ? nodulesOf(of).filter((item) => isSaidOf(of, item, 'palpable')) : [];
    const unclear: FurtherAnswers = Object.fromEntries(which.map((item) => [itemKey(item, 'palpable'), null]));
    return { ok: true, value: { value: examined, fields: { felt: examined ? sides : null, ...unclear } } };
  },
  ultrasound: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    if (!got.ok) return got;
    const { value, fields } = ultrasoundAnswers[got.value]!;
    return { ok: true, value: { value, fields: { ...fields, ...seenByProbe(m, got.value !== 'linear') } } };
  },
  sizes: (text, m) => {
    if (tidy(text) === '0') return { ok: true, value: { value: null, fields: { nodules: [] } } };
    const words = vocabularyOf(m);
    const got = readDiameters(text, {
      sides: words.sides,
      units: words.units,
      maxNodules: limitOf(m.world.programme, 'nodules-weighed'),
      sideRequired: true,
    });
    if (!got.ok) return got;
    return { ok: true, value: { value: null, fields: sizeFields(m, got.value) } };
  },
  'third-size': (text, m) => {
    const { sides, units } = vocabularyOf(m);
    const got = readDiameters(text, { sides, units, maxNodules: 1, sideRequired: false });
    if (!got.ok) return got;
    const { side, mm } = got.value[0]!;
    if (mm === null) return unreadable('not-a-size');
    if (side !== null && side !== sideOf(m, m.frame.item)) return unreadable('other-side');
    const two = twoSizesOf(m, m.frame.item);
    // Below the bigger of the two it can only be the third; the same one again is the biggest alone.
    const alone = mm.length === 1 && mm[0] === Math.max(...two);
    const sizes = mm.length === 3 || alone ? mm : [...two, ...mm].sort((one, other) => other - one);
    if (/^[\d.,]+$/.test(tidy(text)) && unlikelyTogether(sizes)) return unreadable('unlikely-size');
    return { ok: true, value: { value: sizes } };
  },
  looks: (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    const ids = kept(listAnswer(m, 'features', m.frame.item), got.value);
    return { ok: true, value: { value: ids, fields: looksOf(ids, isWeak(m)) } };
  },
  bright: (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    const ids = kept(listAnswer(m, 'foci', m.frame.item), got.value).filter((id) => id !== 'none');
    return { ok: true, value: { value: fociOf(ids, isWeak(m)), fields: { 'asked-bright': ids, rimExtrusion: null } } };
  },
  tsh: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    if (!got.ok) return got;
    return { ok: true, value: { value: stays(m, 'tsh', got.value) ?? got.value } };
  },
  inside: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    if (!got.ok) return got;
    const kept = stays(m, 'composition', got.value);
    if (kept !== null) return { ok: true, value: { value: kept } };
    const same = got.value === textAnswer(m, 'composition', m.frame.item);
    // The size of its solid part stands in the same line of the read-back, so it is asked again with it.
    const parts = same ? { solidPartMm: null } : { spongiformWhole: null, eccentric: null, solidPartMm: null };
    return { ok: true, value: { value: got.value, fields: parts } };
  },
  // Looked at again because it did not fit: not asked a third time.
  'inside-again': (text, m) => {
    const got = readers.inside!(text, m);
    if (!got.ok) return got;
    return { ok: true, value: { ...got.value, fields: { ...got.value.fields, 'inside-again': 'yes' } } };
  },
  rim: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    if (!got.ok) return got;
    const before = listAnswer(m, 'foci', m.frame.item);
    const isOpen = got.value === 'unknown';
    const kept = isOpen ? before : before.filter((id) => id !== 'rim-extrusion');
    const more = got.value === 'yes' ? (['rim-extrusion'] as const) : isOpen ? (['unknown'] as const) : [];
    return { ok: true, value: { value: got.value, fields: { foci: [...new Set([...kept, ...more])] } } };
  },
  // `C 3` is C3.
  'findings-check': (text, m) => {
    const got = readChoice(text.replace(/^\s*([a-z])[\s.-]+([a-z]|\d+)\s*$/iu, '$1$2'), readBackOptions(m));
    return got.ok ? read({ value: got.value, outcome: got.value }) : got;
  },
};
