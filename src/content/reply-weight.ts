/**
 * Answers that only add a finding, or say that it cannot be told: given twice by mistake they raise care at most. Every
 * other answer denies, consents, postpones, lets go or records an act, so its reply must not also be valid at the
 * question just before it, where a doubled text would meet it. A new option counts among the others until it is here.
 */
const adding: ReadonlySet<string> = new Set([
  'unknown',
  'not-examined',
  // Danger signs, exposure, bleeding
  ...['stridor', 'breathless', 'rapid-growth', 'hard-or-fixed', 'hard', 'fixed', 'pulsates', 'moves-with-tongue'],
  ...['voice-change', 'neck-nodes', 'swallowing'],
  ...['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'],
  ...['warfarin', 'other-thinner', 'bleeding-disorder'],
  ...['antiplatelet', 'oral-anticoagulant', 'heparin', 'iv-antiplatelet'],
  // What was felt, measured and seen
  ...['right', 'left', 'isthmus', 'upper', 'lower', 'not-felt', 'low', 'high', 'hot'],
  ...['linear', 'other-with-pad', 'other-without-pad', 'not-done-yet', 'no-ultrasound'],
  ...['cystic', 'spongiform', 'mixed', 'solid', 'obscured'],
  ...['hypoechoic', 'very-hypoechoic', 'taller-than-wide', 'irregular', 'invaded'],
  ...['punctate', 'macrocalcification', 'rim-calcification'],
  // What is on the table, and what is not as it should be
  ...['syringe', 'holder', 'fine-needles', 'needle-22', 'slides-many', 'slides-few', 'alcohol-lidded', 'spray'],
  ...['weak-alcohol', 'helper', 'improvised-holder'],
  ...[
    'consent',
    'identifiers',
    'still',
    'clean',
    'sharps',
    'not-still',
    'breathless-lying',
    'sore-skin',
    'high-pressure',
  ],
  // What went wrong
  ...['blood', 'too-little', 'unwell', 'fluid', 'late', 'dried', 'not-same', 'changed', 'not-tight', 'worse', 'other'],
  ...['faint', 'bleeding-or-swelling', 'breathing', 'hiccup', 'needle-stick'],
  ...['no-name', 'not-the-same', 'broken', 'leaked-or-dried', 'missing', 'few-cells', 'fixation'],
  // The patient is called in once, whatever it is for
  'calling',
  // Asks a person, or asks again
  ...['ask-doctor', 'ask-again', 'not-yet'],
]);

/** What the needle goes into: the same words that only add where a lump was felt choose it here. */
const choosing: ReadonlySet<string> = new Set(['site', 'place']);

/** Whether an answer with this id to the question of this field only adds to what is known, see above. */
export function onlyAdds(optionId: string, field: string): boolean {
  return adding.has(optionId) && !choosing.has(field);
}

/** The ids that only add, for a test that each of them is asked somewhere. */
export const addingIds: readonly string[] = [...adding];
