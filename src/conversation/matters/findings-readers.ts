/** How the replies about findings are read into the fields that the clinical rules know. */

import { answeredKeys, type FurtherAnswers, isOfNodule, itemKey } from '../../case/answers.ts';
import type { Json } from '../../case/events.ts';
import { goodProbeFromMhz } from '../../clinical/cautions.ts';
import { type Parsed, read, type ShownOption, unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readChoices } from '../answers/choices.ts';
import { readDiameters, unlikelyTogether } from '../answers/diameters.ts';
import { readNumber } from '../answers/number.ts';
import { readPatient } from '../answers/patient.ts';
import type { QuickVocabulary } from '../answers/quick-vocabulary.ts';
import { tidy } from '../answers/reply.ts';
import type { Moment, Reader } from '../moment.ts';
import { limitOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { listAnswer, sideOf, textAnswer, twoSizesOf, zoneOf } from './common.ts';

/** Options of the open question with the words of this language. */
export function optionsOf(moment: Moment): readonly ShownOption[] {
  const { texts } = moment.world;
  const ask = moment.ask;
  if (!ask) return [];
  return ask.options.map((one) => ({ ...one, words: texts.words(moment.person.locale, ask.field, one.id) }));
}

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

function listed(moment: Moment, text: string): Parsed<readonly string[]> {
  return readChoices(text, optionsOf(moment));
}

/** A value with the further fields that the same reply answers. */
interface ReadFinding {
  readonly value: Json;
  readonly fields: FurtherAnswers;
}

function only<T extends string>(ids: readonly string[], among: readonly T[]): readonly T[] {
  return ids.flatMap((id) => among.find((one) => one === id) ?? []);
}

function risksOf(ids: readonly string[]): ReadFinding {
  const open = only(ids, ['unknown']).slice(0, 1);
  return {
    value: [...only(ids, ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus']), ...open],
    fields: {
      bleeding: [...only(ids, ['warfarin', 'bleeding-disorder']), ...open],
      otherThinner: ids.includes('other-thinner'),
      thinnerKind: null,
      inr: null,
      platelets: null,
      ivAntiplateletHours: null,
    },
  };
}

/**
 * The features that were named, the rest absent or unknown: absent only if nobody said that the rest is not visible
 * and the machine can show it. What a weak probe can be trusted for (our convention): gross extension and shape; not
 * tiny dots, edge detail, mild darkness or a thin rim.
 */
function featuresOf(ids: readonly string[], weakProbe: boolean): FurtherAnswers {
  const has = (id: string): boolean => ids.includes(id);
  const rest = ids.includes('unknown');
  const fine = rest || weakProbe;
  const foci = only(ids, ['punctate', 'macrocalcification', 'rim-calcification']);
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
    foci: fine ? [...foci, 'unknown'] : foci,
    rimExtrusion: null,
  };
}

const ultrasoundAnswers: Readonly<Record<string, ReadFinding>> = {
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

export const readers: Readonly<Record<string, Reader>> = {
  patient: (text, m) => {
    const got = readPatient(text, vocabularyOf(m).patient, localTime(m.now, zoneOf(m)).year);
    return got.ok ? { ok: true, value: { value: { ...got.value } } } : got;
  },
  'danger-signs': (text, m) => {
    const got = listed(m, text);
    return got.ok ? { ok: true, value: { value: got.value.filter((id) => id !== 'none') } } : got;
  },
  risks: (text, m) => {
    const got = listed(m, text);
    return got.ok ? { ok: true, value: risksOf(got.value) } : got;
  },
  thinner: (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    const kept = only(listAnswer(m, 'bleeding'), ['warfarin', 'bleeding-disorder']);
    return { ok: true, value: { value: [...kept, ...got.value], fields: { thinnerKind: got.value } } };
  },
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
    return { ok: true, value: { value: examined, fields: { felt: examined ? sides : null } } };
  },
  ultrasound: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    return got.ok ? { ok: true, value: ultrasoundAnswers[got.value]! } : got;
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
    const ids = got.value.map((_one, index) => `n${index + 1}`);
    const fields: { -readonly [K in keyof FurtherAnswers]: FurtherAnswers[K] } = { nodules: ids };
    // Words that stood with no size belong to the one nodule, or to nobody knows which.
    if (!Array.isArray(m.case?.answers.nodules) && got.value.length > 1) {
      for (const key of answeredKeys(m.case).filter(isOfNodule)) fields[key] = null;
    }
    got.value.forEach((one, index) => {
      const id = `n${index + 1}`;
      fields[itemKey(id, 'site')] = one.side;
      fields[itemKey(id, 'mm')] = one.mm;
      fields[itemKey(id, 'mmRange')] = one.mmRange;
      if (m.case?.answers[itemKey(id, 'mmTwo')] !== undefined) fields[itemKey(id, 'mmTwo')] = null;
    });
    return { ok: true, value: { value: null, fields } };
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
  features: (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    const weak = textAnswer(m, 'ultrasound.probe') !== 'linear';
    return { ok: true, value: { value: got.value, fields: featuresOf(got.value, weak) } };
  },
  rim: (text, m) => {
    const got = readChoice(text, optionsOf(m));
    if (!got.ok) return got;
    const kept = listAnswer(m, 'foci', m.frame.item).filter((id) => id !== 'rim-extrusion');
    const more =
      got.value === 'yes' ? (['rim-extrusion'] as const) : got.value === 'unknown' ? (['unknown'] as const) : [];
    return { ok: true, value: { value: got.value, fields: { foci: [...new Set([...kept, ...more])] } } };
  },
  'findings-check': (text, m) => {
    const got = readChoice(text, optionsOf(m));
    return got.ok ? read({ value: got.value, outcome: got.value }) : got;
  },
};
