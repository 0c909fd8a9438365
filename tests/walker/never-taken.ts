/**
 * Transitions that nobody can take, each with its reason: guards for records that are broken or for two people at one
 * instant. They count as not taken all the same.
 */
export const neverTaken: Readonly<Record<string, string>> = {
  'aftercare.begin no-needle': 'guard: aftercare of a record without a needle',
  'aftercare.fixing timer.over': 'guard: the watch ends after the time in alcohol, both begin together',
  'aftercare.drying timer.over': 'guard: the watch ends after the time of drying, both begin together',
  'labelling.fixed-since spray': 'asked of slides in alcohol alone, and no slide changes its fixative',
  'labelling.fixed-since dried': 'the same',
  'labelling.fixed-since nothing': 'the same',
  'let-go.begin no': 'guard: the case came back to its first worker before its own due row was handled',
  'new.next patient': 'guard: a case of nobody; the patient is asked before the findings',
  'posting.ready no-needle': 'guard: a parcel of a record without a needle',
  'ready.before-dangers pulsates': 'guard: a lump that beats is decided against before anything is laid out',
  'ready.codes-stand stopped': 'guard: what forbids a needle is decided against before anything is laid out',
  'ready.codes no-lump': 'guard: codes of a record without a specimen',
  'ready.next-code no-lump': 'guard: the same',
  'review.begin yes': 'guard: examined again between the due row and its own run',
  'sampling.begin day-before': 'guard: a conversation that was begun anew at a needle of the day before',
  'sampling.begin no-specimen': 'guard: a needle of a record without a specimen',
};
