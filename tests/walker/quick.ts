/** The whole examination in one text, in the trade words of the language's own list. */
import type { QuickVocabulary } from '../../src/conversation/answers/quick-vocabulary.ts';
import type { Chance } from '../simulation/chance.ts';
import { patientLine } from './free-answers.ts';
import type { Lump } from './lump.ts';
import { isSo, type Truth } from './truth.ts';

const sideLetter = { right: 'R', left: 'L', isthmus: 'M' } as const;
const signs = [
  'stridor',
  'breathless',
  'voice-change',
  'swallowing',
  'rapid-growth',
  'hard-or-fixed',
  'hard',
  'fixed',
  'neck-nodes',
  'pulsates',
];
const risks = ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'];
const bleeding = ['warfarin', 'antiplatelet', 'oral-anticoagulant', 'heparin', 'iv-antiplatelet', 'bleeding-disorder'];

export interface QuickText {
  readonly text: string;
  /** Facts that it says are so, by id. */
  readonly ids: readonly string[];
}

/** More or less complete; now and then it says `risks 0` beside a thinner, as people do. */
export function quickText(chance: Chance, truth: Truth, vocabulary: QuickVocabulary): QuickText {
  const wordOf = (field: string, value: string | boolean): string | null =>
    Object.entries(vocabulary.words).find(
      ([, means]) => means.length === 1 && means[0]!.field === field && String(means[0]!.value) === String(value),
    )?.[0] ?? null;
  const both = (one: string, other: string): string | null =>
    Object.entries(vocabulary.words).find(([, means]) => {
      const said = means.map(({ field, value }) => `${field}=${value}`);
      return said.length === 2 && said.includes(one) && said.includes(other);
    })?.[0] ?? null;
  const ids: string[] = [];
  const listed = (name: string, field: string, all: readonly string[], often: number): string => {
    if (!chance.happens(often)) return '';
    const so = all.filter((id) => isSo(truth, id)).map((id) => ({ id, word: wordOf(field, id) }));
    const sayable = so.filter(({ word }) => word !== null);
    // What the language has no word for is left to the questions.
    if (sayable.length < so.length && sayable.length === 0) return '';
    ids.push(...sayable.map(({ id }) => id));
    return sayable.length === 0 ? `${name} 0` : `${name} ${sayable.map(({ word }) => word).join(', ')}`;
  };
  const [thinner] = bleeding.filter((id) => isSo(truth, id)).flatMap((id) => wordOf('bleeding', id) ?? []);
  const slip = thinner !== undefined && chance.happens(0.3);
  const saidRisks = slip ? `risks 0 ${thinner}` : listed('risks', 'risks', risks, 0.75);
  if (slip) ids.push(...bleeding.filter((id) => wordOf('bleeding', id) === thinner));
  const probe = truth.choices['ultrasound.done'];
  const seen = probe === 'linear' || probe === 'other-with-pad' || probe === 'other-without-pad';
  const { tsh, scan } = truth.choices;
  const felt = truth.lumps.filter((lump) => lump.felt);
  const parts = [
    patientLine(truth),
    ...(seen ? truth.lumps.slice(0, 4).map((lump) => lumpWords(lump, wordOf, chance)) : []),
    chance.happens(0.8) ? (wordOf('tsh', tsh!) ?? '') : '',
    tsh === 'low' && scan !== 'unknown' && chance.happens(0.5) ? (wordOf('scan', scan!) ?? '') : '',
    // Which side was felt is left to the questions where there is more than one lump.
    truth.lumps.length === 1 && chance.happens(0.7) ? (both('examined=true', `palpable=${felt.length > 0}`) ?? '') : '',
    seen && chance.happens(0.9)
      ? (both('ultrasound.done=true', `ultrasound.probe=${probe === 'linear' ? 'linear' : 'other'}`) ?? '')
      : '',
    probe === 'other-with-pad' ? (wordOf('ultrasound.standoff', true) ?? '') : '',
    listed('signs', 'dangerSigns', signs, 0.75),
    saidRisks,
    slip ? '' : listed('bleeding', 'bleeding', bleeding, 0.7),
  ];
  return { text: `NEW ${parts.filter((one) => one !== '').join(' ')}`, ids };
}

function lumpWords(lump: Lump, wordOf: (field: string, value: string) => string | null, chance: Chance): string {
  const looks: readonly (readonly [string, string, string])[] = [
    ['hypoechoic', 'echogenicity', 'hypoechoic'],
    ['very-hypoechoic', 'echogenicity', 'very-hypoechoic'],
    ['taller-than-wide', 'shape', 'taller-than-wide'],
    ['irregular', 'margin', 'irregular'],
    ['invaded', 'capsule', 'invaded'],
    ['punctate', 'foci', 'punctate'],
    ['macrocalcification', 'foci', 'macrocalcification'],
    ['rim-calcification', 'foci', 'rim-calcification'],
  ];
  const said = [
    `${sideLetter[lump.side]} ${lump.mm.slice(0, chance.happens(0.07) ? 2 : 3).join('x')}`,
    chance.happens(0.9) ? wordOf('composition', lump.composition) : null,
    ...(chance.happens(0.8)
      ? looks.map(([id, field, value]) => (lump.looks.has(id) ? wordOf(field, value) : null))
      : []),
  ];
  return said.filter((one) => one !== null).join(' ');
}
