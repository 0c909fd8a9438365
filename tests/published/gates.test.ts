import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { type Assessment, assess } from '../../src/clinical/indication.ts';
import type { PolicyId } from '../../src/clinical/policies/policy.ts';
import { adult, look } from './look.ts';

type Expected = Partial<Pick<Assessment, 'decision' | 'because' | 'sampleToo' | 'guidance' | 'missing'>> & {
  caution?: string;
};
type Row = [string, Findings, Expected, PolicyId?];

const solidDark = (mm: number) => look('solid hypo wide smooth no-foci', mm);
const solidBright = (mm: number) => look('solid iso wide smooth no-foci', mm);
const person = (ageYears: number, pregnantWeeks?: number) => ({
  ageYears,
  sex: 'female' as const,
  ...(pregnantWeeks === undefined ? { pregnant: 'no' as const } : { pregnant: 'yes' as const, pregnantWeeks }),
});

function check(findings: Findings, { caution, ...expected }: Expected, policy?: PolicyId): void {
  const assessed = assess(findings, policy === undefined ? {} : { policy });
  expect(assessed).toMatchObject(expected);
  if (caution !== undefined) expect(assessed.cautions).toContain(caution);
}

// British Thyroid Foundation, referral times; ENT teaching page, thyroid lump referral; BMJ Best Practice, neck mass.
const signs: Row[] = [
  [
    'noisy breathing is an emergency whatever else is known',
    { dangerSigns: ['stridor'] },
    { decision: 'emergency-now', sampleToo: null, missing: [] },
  ],
  [
    'noisy breathing with any nodule',
    adult(solidDark(30), { dangerSigns: ['voice-change', 'stridor'] }),
    { decision: 'emergency-now' },
  ],
  [
    'growth over weeks, solid dark 50 mm',
    adult(solidDark(50), { dangerSigns: ['rapid-growth'] }),
    { decision: 'refer-urgent', because: ['rapid-growth'], sampleToo: 'yes', caution: 'do-not-delay-referral' },
  ],
  [
    'a hoarse voice, solid bright 12 mm',
    adult(solidBright(12), { dangerSigns: ['voice-change'] }),
    { decision: 'refer-urgent', sampleToo: 'yes' },
  ],
  [
    'lumps in the neck lift the size rule',
    adult(solidDark(7), { dangerSigns: ['neck-nodes'] }),
    { decision: 'refer-urgent', sampleToo: 'yes', caution: 'sample-node-too' },
  ],
  [
    'trouble swallowing, simple cyst',
    adult(look('cyst', 40), { dangerSigns: ['swallowing'] }),
    { decision: 'refer-urgent', sampleToo: 'no' },
  ],
  [
    'a hard lump of 30 mm of which nothing more is seen',
    adult({ mm: [30] }, { dangerSigns: ['hard-or-fixed'] }),
    { decision: 'refer-urgent', sampleToo: 'ask-doctor' },
  ],
  [
    'an urgent sign in a child',
    adult(solidDark(30), { patient: person(12), dangerSigns: ['rapid-growth'] }),
    { decision: 'refer-urgent', sampleToo: 'no', caution: 'child-under-guidance-only' },
  ],
  [
    'an urgent sign and a bleeding disorder',
    adult(solidDark(30), { dangerSigns: ['voice-change'], bleeding: ['bleeding-disorder'] }),
    { decision: 'refer-urgent', sampleToo: 'no' },
  ],
  [
    'a sudden painful swelling is scored as usual',
    adult({ ...look('mixed iso wide smooth no-foci', 30), solidPartMm: 16 }),
    { decision: 'sample' },
  ],
];

// Zafereo M, et al. Head Neck 2020, doi 10.1002/hed.26094 (African Head and Neck Society): where there is no ultrasound.
const noUltrasound = (mm: number, dangerSigns: Findings['dangerSigns']): Findings => {
  const { nodules: _, ...without } = adult({ mm: [mm] });
  return { ...without, dangerSigns, ultrasound: { done: false } };
};
const withoutUltrasound: Row[] = [
  [
    '20 mm, soft, no sign: scanned first',
    noUltrasound(20, []),
    { decision: 'examine-first', because: ['no-ultrasound'], sampleToo: null },
  ],
  [
    '30 mm, firm and hoarse: sampled by touch, referred in parallel',
    noUltrasound(30, ['hard-or-fixed', 'voice-change']),
    { decision: 'refer-urgent', sampleToo: 'yes' },
  ],
  ['25 mm with neck nodes', noUltrasound(25, ['neck-nodes']), { decision: 'refer-urgent', sampleToo: 'yes' }],
  [
    '60 mm growing over weeks: airway first',
    noUltrasound(60, ['rapid-growth']),
    { decision: 'refer-urgent', sampleToo: 'yes', caution: 'airway-first' },
  ],
  [
    'trouble swallowing is not in its list',
    noUltrasound(30, ['swallowing']),
    { decision: 'refer-urgent', sampleToo: 'no' },
  ],
  [
    'not felt: no needle without ultrasound',
    { ...noUltrasound(25, ['neck-nodes']), palpable: false },
    { decision: 'refer-urgent', sampleToo: 'no' },
  ],
  [
    'ultrasound not said to be impossible: no exception',
    { ...noUltrasound(25, ['voice-change']), ultrasound: {} },
    { decision: 'refer-urgent', sampleToo: 'no' },
  ],
  [
    'not examined',
    adult(solidDark(30), { examined: false }),
    { decision: 'examine-first', because: ['not-examined'], missing: ['examined'] },
  ],
  [
    'examined and scanned, but no nodule described',
    { ...noUltrasound(30, []), ultrasound: { done: true } },
    { decision: 'examine-first', because: ['nodules-not-described'] },
  ],
];

// Francis GL, et al. Thyroid 2015;25:716 (children); Tessler 2017 and Wells SA, et al. Thyroid 2015;25:567 (family).
const special: Row[] = [
  [
    'a child of 15',
    adult(solidBright(12), { patient: person(15) }),
    { decision: 'refer-first', because: ['child'], guidance: 'required' },
  ],
  [
    'on the eighteenth birthday the adult rules hold',
    adult(solidBright(12), { patient: person(18) }),
    { decision: 'sample' },
  ],
  [
    'medullary cancer in the family, 8 mm',
    adult(solidDark(8), { risks: ['family-medullary'] }),
    { decision: 'refer-first', caution: 'calcitonin-first' },
  ],
  // Haugen, Thyroid 2016;26:1: smaller sizes may be considered with clinical risk factors; PET focus from 10 mm.
  [
    'irradiated as a child, solid bright 12 mm',
    adult(solidBright(12), { risks: ['neck-irradiation'] }),
    { decision: 'optional' },
    'ata-2015',
  ],
  [
    'irradiated as a child, another policy governs',
    adult(solidBright(8), { risks: ['neck-irradiation'] }),
    { decision: 'follow-up', caution: 'higher-risk-smaller-size-allowed' },
  ],
  [
    'thyroid cancer in the family, simple cyst',
    adult(look('cyst', 30), { risks: ['family-thyroid-cancer'] }),
    { decision: 'no-sampling' },
    'ata-2015',
  ],
  [
    'a focus on PET, solid bright 12 mm',
    adult(solidBright(12), { risks: ['pet-focus'] }),
    { decision: 'sample' },
    'ata-2015',
  ],
  [
    'a focus on PET, solid bright 9.9 mm',
    adult(solidBright(9.9), { risks: ['pet-focus'] }),
    { decision: 'follow-up' },
    'ata-2015',
  ],
  [
    'a focus on PET, sparing policy',
    adult(solidBright(10), { risks: ['pet-focus'] }),
    { decision: 'sample' },
    'acr-2017',
  ],
];

// Haugen, Thyroid 2016;26:1, recommendation 2 and pregnancy section; Alexander EK, et al. Thyroid 2017;27:315.
const tsh: Row[] = [
  [
    'week 10, low TSH: repeated after week 16, no scan',
    adult(solidDark(18), { patient: person(30, 10), tsh: 'low' }),
    { decision: 'ask-doctor', because: ['low-tsh-early-pregnancy'], caution: 'no-scan-in-pregnancy' },
  ],
  [
    'week 16 exactly is not yet beyond it',
    adult(solidDark(18), { patient: person(30, 16), tsh: 'low' }),
    { decision: 'ask-doctor' },
  ],
  [
    'week 20, low TSH: may wait',
    adult(solidDark(18), { patient: person(30, 20), tsh: 'low' }),
    { decision: 'optional', because: ['solid', 'size-reached', 'low-tsh-pregnancy-may-wait'] },
  ],
  [
    'low TSH, weeks not known',
    adult(solidDark(18), { patient: { ageYears: 30, pregnant: 'yes' }, tsh: 'low' }),
    { decision: 'ask-doctor', missing: ['patient.pregnantWeeks'] },
  ],
  [
    'week 20, normal TSH: sampled, timing by choice',
    adult(solidDark(18), { patient: person(30, 20) }),
    { decision: 'sample', caution: 'pregnant-timing-by-choice' },
  ],
  [
    'low TSH without a scan',
    adult(solidBright(30), { tsh: 'low' }),
    { decision: 'refer-first', because: ['low-tsh-without-scan'], missing: ['scan'] },
  ],
  [
    'low TSH, hot on the scan',
    adult(solidBright(30), { tsh: 'low', scan: 'hot' }),
    { decision: 'refer-first', because: ['hot-nodule'] },
  ],
  ['low TSH, not hot on the scan', adult(solidBright(30), { tsh: 'low', scan: 'not-hot' }), { decision: 'sample' }],
  // No TSH to be had: Zafereo, Head Neck 2020, clinical judgement.
  [
    'no TSH, signs not asked',
    adult(solidDark(18), { tsh: 'unknown' }),
    { decision: 'ask-doctor', missing: ['tsh', 'overactiveSigns'] },
  ],
  [
    'no TSH, no signs of an overactive thyroid',
    adult(solidDark(18), { tsh: 'unknown', overactiveSigns: false }),
    { decision: 'sample', caution: 'tsh-unknown' },
  ],
  [
    'no TSH, signs of an overactive thyroid',
    adult(solidDark(18), { tsh: 'unknown', overactiveSigns: true }),
    { decision: 'refer-first', because: ['overactive-without-tsh'] },
  ],
];

// Patel IJ, et al. J Vasc Interv Radiol 2019;30:1168 (Society of Interventional Radiology), low-risk procedures.
const clotting: Row[] = [
  [
    'warfarin, INR 2.8 of the day before',
    adult(solidDark(18), { bleeding: ['warfarin'], inr: 2.8, inrAgeHours: 24 }),
    { decision: 'sample', caution: 'blood-thinner-do-not-stop' },
  ],
  [
    'warfarin, INR 3.0 of the day before',
    adult(solidDark(18), { bleeding: ['warfarin'], inr: 3, inrAgeHours: 24 }),
    { decision: 'sample' },
  ],
  // How old it may be: Scottish Dental Clinical Effectiveness Programme, 2022, taken over (tests/clinical/inr-age.test.ts).
  [
    'warfarin, INR 2.8, and nobody knows of when',
    adult(solidDark(18), { bleeding: ['warfarin'], inr: 2.8 }),
    { decision: 'ask-doctor', because: ['inr-age-unknown'], missing: ['inrAgeHours'] },
  ],
  [
    'warfarin, INR 3.4',
    adult(solidDark(18), { bleeding: ['warfarin'], inr: 3.4 }),
    { decision: 'ask-doctor', because: ['inr-over-3'] },
  ],
  [
    'warfarin, INR not known',
    adult(solidDark(18), { bleeding: ['warfarin'] }),
    { decision: 'ask-doctor', because: ['inr-unknown'], missing: ['inr'] },
  ],
  [
    'aspirin, or clopidogrel with it',
    adult(solidDark(18), { bleeding: ['antiplatelet'] }),
    { decision: 'sample', caution: 'antiplatelet-bruising' },
  ],
  [
    'apixaban',
    adult(solidDark(18), { bleeding: ['oral-anticoagulant'] }),
    { decision: 'sample', caution: 'prescriber-decides' },
  ],
  [
    'heparin',
    adult(solidDark(18), { bleeding: ['heparin'] }),
    { decision: 'sample', caution: 'heparin-check-platelets' },
  ],
  [
    'platelets 19',
    adult(solidDark(18), { platelets: 19 }),
    { decision: 'refer-first', because: ['platelets-under-20'] },
  ],
  [
    'platelets 20: allowed, but a remote site prefers to refer',
    adult(solidDark(18), { platelets: 20 }),
    { decision: 'ask-doctor', because: ['platelets-20-to-50'], caution: 'platelets-prefer-referral' },
  ],
  ['platelets 51', adult(solidDark(18), { platelets: 51 }), { decision: 'sample' }],
  [
    'abciximab today',
    adult(solidDark(18), { bleeding: ['iv-antiplatelet'] }),
    { decision: 'ask-doctor', because: ['iv-antiplatelet'], missing: ['ivAntiplateletHours'] },
  ],
  // Abciximab: 24 h, the same source as given in a summary.
  [
    'abciximab 10 h ago',
    adult(solidDark(18), { bleeding: ['iv-antiplatelet'], ivAntiplateletHours: 10 }),
    { decision: 'ask-doctor', because: ['iv-antiplatelet'], caution: 'iv-antiplatelet-wait' },
  ],
  [
    'abciximab 23 h ago',
    adult(solidDark(18), { bleeding: ['iv-antiplatelet'], ivAntiplateletHours: 23 }),
    { decision: 'ask-doctor', because: ['iv-antiplatelet'] },
  ],
  [
    'abciximab 24 h ago',
    adult(solidDark(18), { bleeding: ['iv-antiplatelet'], ivAntiplateletHours: 24 }),
    { decision: 'sample', caution: 'prescriber-decides' },
  ],
  [
    'haemophilia',
    adult(solidDark(18), { bleeding: ['bleeding-disorder'] }),
    { decision: 'refer-first', because: ['bleeding-disorder'] },
  ],
  [
    'a pure cyst of 40 mm needs no INR',
    adult(look('cyst', 40), { bleeding: ['warfarin'] }),
    { decision: 'no-sampling', caution: 'cyst-drain-only-for-symptoms' },
  ],
];

// Common practice, no source; National Institute for Health and Care Excellence, NG230 (guidance for every needle).
const place: Row[] = [
  [
    'not felt, guidance at hand',
    adult(solidDark(18), { palpable: false }),
    { decision: 'sample', guidance: 'required' },
  ],
  [
    'not felt, no guidance',
    adult(solidDark(18), { palpable: false, guidance: false }),
    { decision: 'sample-elsewhere', guidance: 'required' },
  ],
  [
    'not felt, guidance not known',
    adult(solidDark(18), { palpable: false, guidance: 'unknown' }),
    { decision: 'sample-elsewhere', missing: ['guidance'] },
  ],
  ['felt, no guidance', adult(solidDark(18), { guidance: false }), { decision: 'sample', guidance: 'recommended' }],
];

describe('danger signs come before any score', () => {
  it.each(signs)('%s', (_, ...row) => check(...row));
});
describe('without ultrasound', () => {
  it.each(withoutUltrasound)('%s', (_, ...row) => check(...row));
});
describe('children and special risks', () => {
  it.each(special)('%s', (_, ...row) => check(...row));
});
describe('TSH and pregnancy', () => {
  it.each(tsh)('%s', (_, ...row) => check(...row));
});
describe('drugs and clotting', () => {
  it.each(clotting)('%s', (_, ...row) => check(...row));
});
describe('where to sample', () => {
  it.each(place)('%s', (_, ...row) => check(...row));
});
