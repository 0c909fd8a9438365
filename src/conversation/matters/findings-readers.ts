/** How the replies about findings are read into the fields that the clinical rules know. */

import type { Json } from '../../case/events.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import { goodProbeFromMhz } from '../../clinical/cautions.ts';
import { read, unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { type MeasuredNodule, readDiameters, unlikelyTogether } from '../answers/diameters.ts';
import { readNumber } from '../answers/number.ts';
import { readPatient } from '../answers/patient.ts';
import type { QuickVocabulary } from '../answers/quick-vocabulary.ts';
import { tidy } from '../answers/reply.ts';
import type { Moment, Reader } from '../moment.ts';
import { limitOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { listAnswer, sideOf, sizeOf, textAnswer, twoSizesOf, zoneOf } from './common.ts';
import { optionsOf } from './shown-options.ts';
import { listed, signsReaders } from './signs-readers.ts';

export { optionsOf };

/** Words of the quick text in the person's language, English where it has none. */
function vocabularyOf(moment: Moment): QuickVocabulary {
  const { quick } = moment.world;
  return quick.get(moment.person.locale) ?? quick.get('en')!;
}

/** The number 9 alone means cannot tell; nine itself is sent with its unit or a point. */
function numberOr9(least: number, most: number, decimals: number, units: readonly string[]): Reader {
  return (text) => {
    if (tidy(text) === '9') return { ok: true, value: { value: 'unknown' } };
    const got = readNumber(text, { min: least, max: most, decimals, units });
    return got.ok ? { ok: true, value: { value: got.value } } : got;
  };
}

const only = (ids: readonly string[], among: readonly string[]): string[] => ids.filter((id) => among.includes(id));

/** A weak probe cannot be trusted for tiny dots, edge detail, mild darkness or a thin rim; for gross extension and shape it can (our convention). */
const isWeak = (moment: Moment): boolean => textAnswer(moment, 'ultrasound.probe') !== 'linear';

/** The looks that were named, the rest absent, or unknown where it cannot be seen. */
function looksOf(ids: readonly string[], weakProbe: boolean): Record<string, Json> {
  const has = (id: string): boolean => ids.includes(id);
  const rest = ids.includes('unknown');
  const fine = rest || weakProbe;
  return {
    echogenicity: has('very-hypoechoic')
      ? 'very-hypoechoic'
      : has('hypoechoic')
        ? 'hypoechoic'
        : fine
          ? 'unknown'
          : 'isoechoic',
    hypoechoicPart: fine ? 'unknown' : false,
    shape: has('taller-than-wide') ? 'taller-than-wide' : rest ? 'unknown' : 'wider-than-tall',
    margin: has('irregular') ? 'irregular' : fine ? 'unknown' : 'smooth',
    capsule: has('invaded') ? 'invaded' : rest ? 'unknown' : 'intact',
  };
}

/** `9` wipes nothing: what was named before stays named. */
function kept(moment: Moment, field: string, ids: readonly string[]): readonly string[] {
  if (!ids.includes('unknown')) return ids;
  const before = listAnswer(moment, field, moment.frame.item).filter((id) => id !== 'none' && id !== 'unknown');
  return [...new Set([...before, ...ids])];
}

/** What was described already, as another probe than the one first said can be trusted for it. */
function seenByProbe(moment: Moment, weakProbe: boolean): Record<string, Json> {
  const fields: Record<string, Json> = {};
  for (const id of moment.case ? nodulesOf(moment.case) : []) {
    const looks = listAnswer(moment, 'features', id);
    const whole = looks.length > 0 && !looks.includes('unknown');
    for (const [name, value] of whole ? Object.entries(looksOf(looks, weakProbe)) : []) fields[`${id}.${name}`] = value;
    if (moment.case!.answers[`${id}.asked-bright`] == null) continue;
    const bright = listAnswer(moment, 'asked-bright', id);
    fields[`${id}.foci`] = weakProbe ? [...new Set([...bright, 'unknown'])] : bright;
  }
  return changed(moment.case?.answers ?? {}, fields);
}

const ultrasoundAnswers: Readonly<Record<string, { value: Json; fields: Readonly<Record<string, Json>> }>> = {
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

/** What is kept of one nodule beside its side and size. */
const details = [
  ...['palpable', 'composition', 'spongiformWhole', 'eccentric', 'solidPartMm', 'inside-again', 'features'],
  ...['echogenicity', 'hypoechoicPart', 'shape', 'margin', 'capsule', 'foci', 'asked-bright', 'rimExtrusion'],
];

/**
 * Sides and sizes as they were sent. What is known of a nodule stays with the nodule of the same side, where that side has one;
 * of two on a side, with the one of the same size. Words that stood with no size belong to the one nodule, or to nobody knows which.
 */
function sizeFields(moment: Moment, measured: readonly MeasuredNodule[]): Readonly<Record<string, Json>> {
  const answers = moment.case?.answers ?? {};
  const before = Array.isArray(answers.nodules) ? answers.nodules.map(String) : null;
  const fields: Record<string, Json> = { nodules: measured.map((_one, index) => `n${index + 1}`) };
  for (const key of Object.keys(answers).filter((one) => /^n\d+\./.test(one))) fields[key] = null;
  measured.forEach((one, index) => {
    const id = `n${index + 1}`;
    const from = before === null ? (measured.length === 1 ? id : null) : sameNodule(moment, before, measured, one);
    for (const name of from === null ? [] : details) {
      const value = answers[`${from}.${name}`];
      if (value !== undefined && value !== null) fields[`${id}.${name}`] = value;
    }
    fields[`${id}.site`] = one.side;
    fields[`${id}.mm`] = one.mm;
    fields[`${id}.mmRange`] = one.mmRange;
  });
  return changed(answers, fields);
}

/** Without what says the same as before. */
function changed(answers: Readonly<Record<string, Json>>, fields: Readonly<Record<string, Json>>): typeof fields {
  const differs = ([key, value]: readonly [string, Json]): boolean =>
    JSON.stringify(answers[key] ?? null) !== JSON.stringify(value);
  return Object.fromEntries(Object.entries(fields).filter(differs));
}

/** The nodule of before that this one is; null where that is not certain. */
function sameNodule(
  moment: Moment,
  before: readonly string[],
  measured: readonly MeasuredNodule[],
  one: MeasuredNodule,
): string | null {
  const there = before.filter((id) => sideOf(moment, id) === one.side);
  const here = measured.filter((other) => other.side === one.side);
  if (there.length === 1 && here.length === 1) return there[0]!;
  const alike = there.filter((id) => sizeOf(moment, id).join('x') === (one.mm ?? []).join('x'));
  return alike.length === 1 && one.mm !== null ? alike[0]! : null;
}

export const readers: Readonly<Record<string, Reader>> = {
  patient: (text, m) => {
    const got = readPatient(text, vocabularyOf(m).patient, localTime(m.now, zoneOf(m)).year);
    return got.ok ? { ok: true, value: { value: { ...got.value } } } : got;
  },
  ...signsReaders,
  inr: numberOr9(0.5, 20, 1, ['inr']),
  platelets: numberOr9(1, 1500, 1, []),
  'drip-hours': numberOr9(0, 720, 0, ['h', 'hours']),
  'solid-part': numberOr9(1, 150, 1, ['mm']),
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
    const examined = !ids.includes('not-examined');
    // Felt somewhere else now: which of the lumps it is, is not known any more.
    const which = Object.keys(m.case?.answers ?? {}).filter((key) => /^n\d+\.palpable$/.test(key));
    const fields = { felt: examined ? sides : null, ...Object.fromEntries(which.map((key) => [key, null])) };
    return { ok: true, value: { value: examined, fields } };
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
    const ids = kept(m, 'features', got.value);
    return { ok: true, value: { value: ids, fields: looksOf(ids, isWeak(m)) } };
  },
  bright: (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    const ids = kept(m, 'foci', got.value).filter((id) => id !== 'none');
    const foci = isWeak(m) ? [...new Set([...ids, 'unknown'])] : ids;
    return { ok: true, value: { value: foci, fields: { 'asked-bright': ids, rimExtrusion: null } } };
  },
  inside: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    if (!got.ok) return got;
    const same = got.value === textAnswer(m, 'composition', m.frame.item);
    const parts = same ? {} : { spongiformWhole: null, eccentric: null, solidPartMm: null };
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
    const before = m.case?.answers[`${m.frame.item}.foci`];
    const kept = (Array.isArray(before) ? before : []).filter((id) => id !== 'rim-extrusion');
    const more = got.value === 'yes' ? ['rim-extrusion'] : got.value === 'unknown' ? ['unknown'] : [];
    return { ok: true, value: { value: got.value, fields: { foci: [...new Set([...kept, ...more])] } } };
  },
  // `C 3` is C3.
  'findings-check': (text, m) => {
    const got = readChoice(text.replace(/^\s*([a-z])[\s.-]+([a-z]|\d+)\s*$/iu, '$1$2'), optionsOf(m));
    return got.ok ? read({ value: got.value, outcome: got.value }) : got;
  },
};
