import type { Findings, Nodule } from '../../src/clinical/findings.ts';

/** The words of the published tables, each with what it says of a nodule. What no word names is unknown. */
const words: { readonly [word: string]: Nodule } = {
  cyst: { composition: 'cystic' },
  sponge: { composition: 'spongiform', spongiformWhole: true },
  'mostly-sponge': { composition: 'spongiform', spongiformWhole: false },
  'sponge-of-unknown-extent': { composition: 'spongiform' },
  mixed: { composition: 'mixed' },
  solid: { composition: 'solid' },
  hidden: { composition: 'obscured' },
  centred: { eccentric: false },
  eccentric: { eccentric: true },
  iso: { echogenicity: 'isoechoic', hypoechoicPart: false },
  'iso-with-dark-part': { echogenicity: 'isoechoic', hypoechoicPart: true },
  hypo: { echogenicity: 'hypoechoic', hypoechoicPart: false },
  vhypo: { echogenicity: 'very-hypoechoic', hypoechoicPart: false },
  wide: { shape: 'wider-than-tall' },
  tall: { shape: 'taller-than-wide' },
  smooth: { margin: 'smooth', capsule: 'intact' },
  blurred: { margin: 'ill-defined', capsule: 'intact' },
  lobed: { margin: 'lobulated', capsule: 'intact' },
  jagged: { margin: 'irregular', capsule: 'intact' },
  breaks: { capsule: 'invaded' },
  'no-foci': { foci: [] },
};
const foci = {
  comet: 'comet-tail',
  coarse: 'macrocalcification',
  rim: 'rim-calcification',
  extruded: 'rim-extrusion',
  tiny: 'punctate',
} as const;

/** A nodule from the words of a table row, such as `solid hypo wide smooth tiny`, and its largest diameter in mm. */
export function look(row: string, mm?: number): Nodule {
  const nodule: Nodule = mm === undefined ? { id: 'n1' } : { id: 'n1', mm: [mm] };
  for (const word of row.split(' ')) {
    const focus = foci[word as keyof typeof foci];
    if (focus !== undefined) nodule.foci = [...(nodule.foci ?? []), focus];
    else if (words[word] === undefined) throw new Error(`no such word: ${word}`);
    else Object.assign(nodule, words[word]);
  }
  return nodule;
}

/** An adult who is examined and scanned, with normal TSH and nothing that would stop a needle. */
export function adult(nodule: Nodule, more: Findings = {}): Findings {
  return {
    patient: { ageYears: 50, sex: 'female', pregnant: 'no' },
    dangerSigns: [],
    risks: [],
    bleeding: [],
    tsh: 'normal',
    examined: true,
    palpable: true,
    guidance: true,
    ultrasound: { done: true, probe: 'linear', mhz: 10 },
    nodules: [nodule],
    ...more,
  };
}
