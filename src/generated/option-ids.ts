// Written by `npm run names` from locales/en and flows; a test compares.
export const asks = {
  'action.benign': {
    field: 'told-benign',
    options: ['told', 'not-found'],
  },
  'action.node-benign': {
    field: 'told-benign',
    options: ['told', 'not-found'],
  },
  'action.refer': {
    field: 'calling',
    options: ['calling', 'not-found'],
  },
  'action.repeat': {
    field: 'repeat',
    options: ['booked', 'declined', 'not-found'],
  },
  'action.repeat-cyst': {
    field: 'repeat',
    options: ['booked', 'declined', 'not-found', 'nothing-left'],
  },
  'action.repeat-day': {
    field: 'repeat-day',
    options: [],
  },
  'action.seek': {
    field: 'sought',
    options: ['reached', 'not-reached'],
  },
  'action.seen': {
    field: 'seen',
    options: ['seen', 'not-seen', 'unknown'],
  },
  'action.tell': {
    field: 'told',
    options: ['agrees', 'refuses', 'not-found'],
  },
  'action.urgent': {
    field: 'calling',
    options: ['calling', 'not-found'],
  },
  'action.which-day': {
    field: 'appointment',
    options: [],
  },
  'aftercare.again-day': {
    field: 'sampling-day',
    options: [],
  },
  'aftercare.away-asked': {
    field: 'neck',
    options: ['all-well', 'changed'],
  },
  'aftercare.box': {
    field: 'container',
    options: ['closed', 'not-tight'],
  },
  'aftercare.closing-dried': {
    field: 'container',
    options: ['closed', 'not-tight'],
  },
  'aftercare.container-late': {
    field: 'container',
    options: ['closed', 'not-tight'],
  },
  'aftercare.lid': {
    field: 'container',
    options: ['closed', 'not-tight'],
  },
  'aftercare.neck': {
    field: 'neck',
    options: ['all-well', 'changed'],
  },
  'aftercare.neck-after-alarm': {
    field: 'neck',
    options: ['all-well', 'changed', 'in-hospital'],
  },
  'aftercare.no-sample': {
    field: 'plan',
    options: ['refer', 'again', 'ask-doctor'],
  },
  'aftercare.told': {
    field: 'said-back',
    options: ['yes', 'not-yet'],
  },
  'ask.words': {
    field: 'question',
    options: [],
  },
  'credit.confirm': {
    field: 'sms-credit',
    options: ['yes', 'no'],
  },
  'decision.allowed-urgent': {
    field: 'referral-day',
    options: [],
  },
  'decision.cyst': {
    field: 'cyst',
    options: ['presses', 'seen', 'none', 'unknown'],
  },
  'decision.elsewhere': {
    field: 'go-ahead',
    options: ['told', 'ask-doctor'],
  },
  'decision.emergency': {
    field: 'go-ahead',
    options: ['on-the-way', 'cannot-go'],
  },
  'decision.emergency-waits': {
    field: 'go-ahead',
    options: ['on-the-way', 'cannot-go'],
  },
  'decision.examine': {
    field: 'examined-now',
    options: ['done', 'not-possible', 'ask-doctor'],
  },
  'decision.examine-again': {
    field: 'examined-now',
    options: ['not-possible', 'ask-doctor'],
  },
  'decision.follow-up': {
    field: 'go-ahead',
    options: ['told', 'ask-doctor'],
  },
  'decision.no-sampling': {
    field: 'go-ahead',
    options: ['told', 'ask-doctor'],
  },
  'decision.optional': {
    field: 'go-ahead',
    options: ['now', 'watch', 'ask-doctor'],
  },
  'decision.optional-pregnant': {
    field: 'go-ahead',
    options: ['now', 'watch', 'ask-doctor'],
  },
  'decision.refer': {
    field: 'go-ahead',
    options: ['told', 'ask-doctor'],
  },
  'decision.released': {
    field: 'go-ahead',
    options: ['now', 'other-day', 'ask-doctor'],
  },
  'decision.sample': {
    field: 'go-ahead',
    options: ['now', 'other-day', 'ask-doctor'],
  },
  'decision.today': {
    field: 'go-ahead',
    options: ['now', 'other-day', 'ask-doctor'],
  },
  'decision.urgent-asked': {
    field: 'referral-day',
    options: [],
  },
  'decision.urgent-day': {
    field: 'referral-day',
    options: [],
  },
  'decision.urgent-refer': {
    field: 'go-ahead',
    options: ['told', 'ask-doctor'],
  },
  'decision.urgent-sample': {
    field: 'go-ahead',
    options: ['now', 'refer-only', 'ask-doctor'],
  },
  'decision.which-day': {
    field: 'sampling-day',
    options: [],
  },
  'end.confirm': {
    field: 'end-case',
    options: [],
  },
  'freeze.sure': {
    field: 'freeze',
    options: ['yes', 'no'],
  },
  'join.again': {
    field: 'practice',
    options: ['first', 'second', 'third', 'none', 'unknown'],
  },
  'join.practice': {
    field: 'practice',
    options: ['first', 'second', 'third', 'none', 'unknown'],
  },
  'lab-asks.question': {
    field: 'lab-question',
    options: [],
  },
  'labelling.again': {
    field: 'label-check',
    options: ['all-same', 'not-same'],
  },
  'labelling.book': {
    field: 'book',
    options: ['written', 'not-yet'],
  },
  'labelling.ct-tube': {
    field: 'ct-tube',
    options: ['filled', 'none'],
  },
  'labelling.fixed-time': {
    field: 'fixed-time',
    options: ['unknown'],
  },
  'labelling.label': {
    field: 'label-check',
    options: ['all-same', 'not-same'],
  },
  'labelling.whose': {
    field: 'label-person',
    options: [],
  },
  'left-lumps.day': {
    field: 'review-day',
    options: [],
  },
  'left.find': {
    field: 'sought',
    options: ['reached', 'not-reached'],
  },
  'left.later': {
    field: 'sampling-day',
    options: [],
  },
  'left.seek': {
    field: 'sought',
    options: ['reached', 'not-reached'],
  },
  'left.waits': {
    field: 'here-again',
    options: ['here'],
  },
  'locked.phone': {
    field: 'lab-phoned',
    options: ['phoned'],
  },
  'more-came.sure': {
    field: 'more-came',
    options: ['all-here', 'count-again'],
  },
  'new.bleeding': {
    field: 'bleeding',
    options: ['warfarin', 'other-thinner', 'bleeding-disorder', 'none', 'unknown'],
  },
  'new.breathing': {
    field: 'dangerSigns',
    options: ['stridor', 'breathless', 'none', 'unknown'],
  },
  'new.bright': {
    field: 'foci',
    options: ['punctate', 'macrocalcification', 'rim-calcification', 'none', 'unknown'],
  },
  'new.check': {
    field: 'findings-check',
    options: [
      'yes',
      'breathing',
      'story',
      'lump',
      'family',
      'bleeding',
      'felt',
      'tsh',
      'ultrasound',
      'sizes',
      'inside',
      'looks',
      'bright',
      'patient',
    ],
  },
  'new.drip-hours': {
    field: 'ivAntiplateletHours',
    options: [],
  },
  'new.eccentric': {
    field: 'eccentric',
    options: ['yes', 'no', 'unknown'],
  },
  'new.examined': {
    field: 'examined',
    options: ['right', 'left', 'isthmus', 'not-felt', 'not-examined'],
  },
  'new.family': {
    field: 'risks',
    options: ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'none', 'unknown'],
  },
  'new.family-and-pet': {
    field: 'risks',
    options: ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus', 'none', 'unknown'],
  },
  'new.felt': {
    field: 'palpable',
    options: ['yes', 'no', 'unknown'],
  },
  'new.fixed-lump': {
    field: 'fixedLump',
    options: ['thyroid', 'node', 'unknown'],
  },
  'new.inr': {
    field: 'inr',
    options: [],
  },
  'new.inr-changed': {
    field: 'changedSinceInr',
    options: ['yes', 'no', 'unknown'],
  },
  'new.inr-days': {
    field: 'inrAgeHours',
    options: [],
  },
  'new.inside': {
    field: 'composition',
    options: ['cystic', 'spongiform', 'mixed', 'solid', 'obscured', 'unknown'],
  },
  'new.inside-again': {
    field: 'composition',
    options: ['cystic', 'spongiform', 'mixed', 'solid', 'obscured', 'unknown'],
  },
  'new.looks': {
    field: 'features',
    options: ['hypoechoic', 'very-hypoechoic', 'taller-than-wide', 'irregular', 'invaded', 'none', 'unknown'],
  },
  'new.lump': {
    field: 'dangerSigns',
    options: ['hard', 'fixed', 'pulsates', 'neck-nodes', 'none', 'unknown'],
  },
  'new.needle-in': {
    field: 'new-beside',
    options: ['begin', 'go-on'],
  },
  'new.overactive': {
    field: 'overactiveSigns',
    options: ['yes', 'no', 'unknown'],
  },
  'new.patient': {
    field: 'patient',
    options: [],
  },
  'new.patient-again': {
    field: 'patient',
    options: [],
  },
  'new.platelets': {
    field: 'platelets',
    options: [],
  },
  'new.pregnant': {
    field: 'patient.pregnant',
    options: ['yes', 'no', 'unknown'],
  },
  'new.pregnant-weeks': {
    field: 'patient.pregnantWeeks',
    options: [],
  },
  'new.rim': {
    field: 'rimExtrusion',
    options: ['yes', 'no', 'unknown'],
  },
  'new.scan': {
    field: 'scan',
    options: ['hot', 'not-hot', 'unknown'],
  },
  'new.seen-before': {
    field: 'same-patient',
    options: ['same', 'another', 'unknown'],
  },
  'new.sizes': {
    field: 'mm',
    options: [],
  },
  'new.solid-part': {
    field: 'solidPartMm',
    options: [],
  },
  'new.sponge': {
    field: 'spongiformWhole',
    options: ['yes', 'no', 'unknown'],
  },
  'new.still-open': {
    field: 'same-patient',
    options: ['same', 'another', 'unknown'],
  },
  'new.story': {
    field: 'dangerSigns',
    options: ['voice-change', 'swallowing', 'rapid-growth', 'none', 'unknown'],
  },
  'new.thinner': {
    field: 'bleeding',
    options: ['antiplatelet', 'oral-anticoagulant', 'heparin', 'iv-antiplatelet', 'unknown'],
  },
  'new.third': {
    field: 'mm',
    options: [],
  },
  'new.tsh': {
    field: 'tsh',
    options: ['normal', 'low', 'high', 'unknown'],
  },
  'new.ultrasound': {
    field: 'ultrasound.done',
    options: ['linear', 'other-with-pad', 'other-without-pad', 'not-done-yet', 'no-ultrasound'],
  },
  'node-look.flushed': {
    field: 'node-rest',
    options: ['flushed', 'nothing-left'],
  },
  'node-look.look': {
    field: 'node-look',
    options: ['pus', 'cheesy', 'bloody', 'unknown'],
  },
  'node-look.tube': {
    field: 'node-tube',
    options: ['filled', 'none'],
  },
  'node.pot': {
    field: 'node-pot',
    options: ['pot', 'no-pot'],
  },
  'node.pulse': {
    field: 'node-pulse',
    options: ['beats', 'still', 'unknown'],
  },
  'node.which-level': {
    field: 'level',
    options: ['i', 'ii', 'iii', 'iv', 'v', 'vi', 'low'],
  },
  'ready.checks': {
    field: 'checks',
    options: [
      'all',
      'consent',
      'identifiers',
      'still',
      'clean',
      'sharps',
      'capillary',
      'second-operator',
      'improvised-holder',
    ],
  },
  'ready.dangers': {
    field: 'dangers',
    options: ['not-still', 'breathless-lying', 'sore-skin', 'high-pressure', 'none'],
  },
  'ready.doctor-spoke': {
    field: 'while-asked',
    options: ['other-day', 'ask-again'],
  },
  'ready.fixatives': {
    field: 'supplies',
    options: ['alcohol-lidded', 'spray', 'weak-alcohol', 'helper', 'improvised-holder', 'none'],
  },
  'ready.high-pressure': {
    field: 'pressure',
    options: ['lower', 'still-high', 'ask-doctor'],
  },
  'ready.lacking': {
    field: 'supplies-stop',
    options: ['at-hand', 'other-day'],
  },
  'ready.missing': {
    field: 'checks',
    options: ['all', 'consent', 'identifiers', 'still', 'clean', 'sharps'],
  },
  'ready.needle-doctor': {
    field: 'while-asked',
    options: ['other-day'],
  },
  'ready.no-fixative': {
    field: 'supplies-stop',
    options: ['at-hand', 'other-day'],
  },
  'ready.no-needle': {
    field: 'no-needle',
    options: ['now', 'other-day'],
  },
  'ready.other-day': {
    field: 'sampling-day',
    options: [],
  },
  'ready.pencil': {
    field: 'slide-code',
    options: [],
  },
  'ready.postpone': {
    field: 'sampling-day',
    options: [],
  },
  'ready.pulse': {
    field: 'lump',
    options: ['pulsates', 'moves-with-tongue', 'none', 'unknown'],
  },
  'ready.sampler': {
    field: 'sampler',
    options: [],
  },
  'ready.sore-skin': {
    field: 'skin',
    options: ['other-day', 'ask-doctor'],
  },
  'ready.supplies': {
    field: 'supplies',
    options: ['syringe', 'holder', 'fine-needles', 'needle-22', 'slides-many', 'slides-few', 'none'],
  },
  'referral.again': {
    field: 'referral-again',
    options: ['new-day', 'refuses', 'not-found'],
  },
  'referral.day': {
    field: 'referral-day',
    options: [],
  },
  'referral.found': {
    field: 'referral-again',
    options: ['new-day', 'refuses', 'not-found'],
  },
  'referral.seek': {
    field: 'sought',
    options: ['reached', 'not-reached'],
  },
  'referral.seen': {
    field: 'referral-seen',
    options: ['seen', 'not-seen', 'unknown'],
  },
  'rejected.reason': {
    field: 'reject-reason',
    options: ['no-name', 'not-the-same', 'broken', 'leaked-or-dried', 'missing'],
  },
  'reporter.once-more': {
    field: 'reporter',
    options: [],
  },
  'reporter.who': {
    field: 'reporter',
    options: [],
  },
  'review.day': {
    field: 'review-day',
    options: [],
  },
  'review.due': {
    field: 'review',
    options: ['examine', 'other-day', 'not-coming'],
  },
  'review.left': {
    field: 'review',
    options: ['examine', 'other-day', 'not-coming'],
  },
  'sampling.after-call': {
    field: 'after-limit',
    options: ['end-here', 'ask-again'],
  },
  'sampling.after-unwell': {
    field: 'after-unwell',
    options: ['end-here', 'ask-doctor'],
  },
  'sampling.alarm-called': {
    field: 'after-alarm',
    options: ['end-here', 'ask-again'],
  },
  'sampling.alarm-next': {
    field: 'after-alarm',
    options: ['end-here'],
  },
  'sampling.all-dried': {
    field: 'all-dried',
    options: ['again', 'send-dried', 'ask-doctor'],
  },
  'sampling.fluid': {
    field: 'fluid',
    options: ['clear', 'yellow', 'brown', 'red', 'pus'],
  },
  'sampling.fluid-called': {
    field: 'after-fluid',
    options: ['end-here', 'ask-again'],
  },
  'sampling.fluid-doctor': {
    field: 'after-fluid',
    options: ['end-here'],
  },
  'sampling.limit': {
    field: 'after-limit',
    options: ['end-here'],
  },
  'sampling.none-usable': {
    field: 'none-usable',
    options: ['again', 'end-here', 'ask-doctor'],
  },
  'sampling.report': {
    field: 'attempt',
    options: ['material', 'blood', 'too-little', 'unwell', 'fluid', 'not-done'],
  },
  'sampling.slides': {
    field: 'slides',
    options: ['wet-at-once', 'late', 'dried', 'none'],
  },
  'sampling.slides-dried': {
    field: 'slides-dried',
    options: ['dried', 'late', 'wet-at-once', 'none'],
  },
  'second.confirm': {
    field: 'second-person',
    options: ['yes', 'no'],
  },
  'sos.how': {
    field: 'sos-now',
    options: ['same', 'worse', 'handed-over', 'better', 'cannot-go'],
  },
  'sos.how-again': {
    field: 'sos-now',
    options: ['same', 'worse', 'handed-over', 'better', 'cannot-go'],
  },
  'sos.left': {
    field: 'sos-now',
    options: ['same', 'worse', 'handed-over', 'better', 'cannot-go'],
  },
  'sos.sign': {
    field: 'sos-sign',
    options: ['faint', 'bleeding-or-swelling', 'breathing', 'voice-change', 'hiccup', 'needle-stick', 'other'],
  },
  'sos.stick-time': {
    field: 'stick-time',
    options: ['day', 'three-days', 'week', 'longer', 'unknown'],
  },
  'staff.confirm': {
    field: 'roster-change',
    options: ['yes', 'no'],
  },
  'stands.which': {
    field: 'result-stands',
    options: ['stands', 'not-counted'],
  },
  'target.felt-size': {
    field: 'mm',
    options: [],
  },
  'target.which-neck-side': {
    field: 'site',
    options: ['right', 'left'],
  },
  'target.which-place': {
    field: 'place',
    options: ['upper', 'lower'],
  },
  'target.which-side': {
    field: 'site',
    options: ['right', 'left', 'isthmus'],
  },
  'thy1-reason.reason': {
    field: 'thy1-reason',
    options: ['blood', 'few-cells', 'fixation', 'other'],
  },
  'unusable.seek': {
    field: 'sought',
    options: ['reached', 'not-reached'],
  },
  'unusable.what-now': {
    field: 'unusable',
    options: ['come-again', 'put-right', 'not-found'],
  },
} as const;

type Ask = (typeof asks)[keyof typeof asks];

/** What may be answered to the questions of a field. */
export type OptionId<F extends Ask['field']> = Extract<Ask, { readonly field: F }>['options'][number];
