// Written by `npm run asked-after` from tests/conversations; a test compares.
/** Questions that came right after one, with the answers that led there: ids, `a+b` for several, `any` for a number. */
export const askedAfter: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  '-.decision-cyst': {
    '-.decision': ['drain'],
  },
  '-.refer-first': {
    '-.thy1': ['refer'],
    '-.thy3': ['refer'],
    '-.thy4': ['refer'],
  },
  '-.thy3': {
    '-.refer-first': ['repeat'],
  },
  '-.thy5': {
    '-.thy4': ['refer'],
  },
  '-.typed': {
    '-.thy5': ['find-primary'],
  },
  'action.benign': {
    'action.seek': ['not-found'],
    'action.urgent': ['told'],
  },
  'action.refer': {
    'action.benign': ['calling'],
    'action.repeat': ['calling'],
    'action.tell': ['calling'],
  },
  'action.repeat': {
    'action.repeat-day': ['booked'],
  },
  'action.repeat-cyst': {
    'action.tell': ['nothing-left'],
  },
  'action.seek': {
    'action.benign': ['reached'],
    'action.tell': ['not-reached'],
  },
  'action.seen': {
    'action.tell': ['not-seen'],
  },
  'action.tell': {
    'action.which-day': ['agrees'],
  },
  'action.urgent': {
    'action.tell': ['calling'],
    'left-lumps.day': ['calling'],
  },
  'aftercare.neck': {
    'aftercare.told': ['all-well'],
  },
  'aftercare.neck-after-alarm': {
    'aftercare.told': ['all-well'],
  },
  'aftercare.no-sample': {
    'aftercare.again-day': ['again'],
    'referral.day': ['refer'],
  },
  'aftercare.told': {
    'aftercare.container-late': ['yes'],
    'aftercare.no-sample': ['yes'],
    'left-lumps.day': ['yes'],
  },
  'decision.cyst': {
    'decision.released': ['seen'],
  },
  'decision.elsewhere': {
    'referral.day': ['told'],
  },
  'decision.emergency': {
    'decision.emergency-waits': ['cannot-go'],
  },
  'decision.examine': {
    'decision.released': ['ask-doctor'],
    'new.examined': ['ask-doctor', 'done'],
    'new.pregnant': ['ask-doctor'],
    'referral.day': ['ask-doctor', 'not-possible'],
  },
  'decision.examine-again': {
    'referral.day': ['not-possible'],
  },
  'decision.no-sampling': {
    'decision.cyst': ['ask-doctor'],
  },
  'decision.optional-pregnant': {
    'ready.supplies': ['now'],
  },
  'decision.refer': {
    'decision.released': ['ask-doctor'],
    'new.bleeding': ['ask-doctor'],
    'referral.day': ['ask-doctor', 'told'],
  },
  'decision.released': {
    'decision.which-day': ['other-day'],
    'new.breathing': ['now'],
    'ready.supplies': ['now'],
    'target.which-neck-side': ['now'],
    'target.which-side': ['now'],
  },
  'decision.sample': {
    'decision.which-day': ['other-day'],
    'new.breathing': ['now'],
    'ready.needle-doctor': ['now'],
    'ready.sampler': ['now'],
    'ready.supplies': ['now'],
    'target.which-place': ['now'],
  },
  'decision.today': {
    'new.breathing': ['now'],
    'ready.supplies': ['now'],
    'referral.day': ['ask-doctor'],
  },
  'decision.urgent-refer': {
    'decision.urgent-asked': ['ask-doctor'],
    'referral.day': ['told'],
  },
  'decision.urgent-sample': {
    'decision.urgent-asked': ['ask-doctor'],
    'decision.urgent-day': ['now'],
    'referral.day': ['refer-only'],
  },
  'freeze.sure': {
    'decision.released': ['yes'],
    'decision.sample': ['yes'],
    'new.breathing': ['no'],
  },
  'labelling.again': {
    'labelling.book': ['all-same'],
  },
  'labelling.book': {
    'aftercare.closing-dried': ['written'],
    'aftercare.lid': ['written'],
    'labelling.label': ['written'],
    'referral.day': ['written'],
  },
  'labelling.fixed-time': {
    'labelling.label': ['unknown'],
    'node-look.look': ['unknown'],
  },
  'labelling.label': {
    'labelling.again': ['not-same'],
    'labelling.book': ['all-same'],
  },
  'left.find': {
    'left.later': ['reached'],
    'left.seek': ['not-reached'],
  },
  'left.seek': {
    'left.waits': ['not-reached'],
  },
  'left.waits': {
    'decision.sample': ['here'],
    'decision.urgent-sample': ['here'],
    'new.breathing': ['here'],
  },
  'new.bleeding': {
    'new.check': ['bleeding-disorder', 'none', 'unknown', 'warfarin+other-thinner+bleeding-disorder'],
    'new.examined': ['none', 'unknown'],
    'new.inr': ['warfarin', 'warfarin+other-thinner'],
    'new.pregnant': ['none', 'unknown'],
    'new.thinner': ['other-thinner'],
  },
  'new.breathing': {
    'decision.emergency': ['stridor'],
    'new.lump': ['none'],
    'new.story': ['breathless', 'none', 'unknown'],
  },
  'new.bright': {
    'new.check': ['none', 'punctate', 'unknown'],
    'new.felt': ['none', 'punctate'],
    'new.inside': ['none', 'punctate'],
    'new.looks': ['none'],
    'new.rim': ['unknown'],
  },
  'new.check': {
    'decision.elsewhere': ['yes'],
    'decision.examine': ['yes'],
    'decision.examine-again': ['yes'],
    'decision.follow-up': ['yes'],
    'decision.no-sampling': ['yes'],
    'decision.optional-pregnant': ['yes'],
    'decision.refer': ['yes'],
    'decision.released': ['breathing', 'yes'],
    'decision.sample': ['yes'],
    'decision.urgent-asked': ['yes'],
    'decision.urgent-refer': ['yes'],
    'decision.urgent-sample': ['yes'],
    'new.bleeding': ['bleeding'],
    'new.bright': ['bright'],
    'new.examined': ['felt'],
    'new.family': ['family'],
    'new.inr': ['yes'],
    'new.inside': ['inside'],
    'new.lump': ['lump'],
    'new.sizes': ['sizes'],
    'new.tsh': ['tsh'],
    'ready.supplies': ['yes'],
    'referral.day': ['yes'],
  },
  'new.drip-hours': {
    'new.check': ['any'],
  },
  'new.eccentric': {
    'new.looks': ['no', 'unknown'],
  },
  'new.examined': {
    'new.check': ['left', 'not-examined', 'right'],
    'new.sizes': ['right'],
    'new.tsh': ['isthmus', 'left', 'not-felt', 'right', 'right+left'],
    'new.ultrasound': ['left', 'right'],
  },
  'new.family': {
    'new.bleeding': ['neck-irradiation', 'neck-irradiation+unknown', 'none', 'unknown'],
    'new.check': ['family-medullary', 'family-thyroid-cancer', 'none', 'unknown'],
    'new.overactive': ['none'],
  },
  'new.felt': {
    'new.felt': ['yes'],
    'new.inside': ['no', 'yes'],
  },
  'new.fixed-lump': {
    'new.bleeding': ['unknown'],
    'new.family': ['node', 'thyroid', 'unknown'],
  },
  'new.inr': {
    'new.check': ['any'],
    'new.inr-days': ['any'],
  },
  'new.inr-changed': {
    'new.check': ['no'],
    'new.pregnant': ['no', 'yes'],
  },
  'new.inr-days': {
    'new.check': ['any'],
    'new.examined': ['any'],
    'new.inr-changed': ['any'],
    'new.thinner': ['any'],
  },
  'new.inside': {
    'new.check': ['cystic', 'mixed', 'solid', 'unknown'],
    'new.inside': ['cystic', 'solid'],
    'new.looks': ['solid', 'unknown'],
    'new.solid-part': ['mixed'],
    'new.sponge': ['spongiform'],
  },
  'new.inside-again': {
    'new.sponge': ['spongiform'],
  },
  'new.looks': {
    'new.bright': [
      'hypoechoic',
      'hypoechoic+irregular',
      'hypoechoic+taller-than-wide+irregular',
      'hypoechoic+very-hypoechoic+irregular',
      'irregular',
      'none',
      'unknown',
      'very-hypoechoic+irregular',
      'very-hypoechoic+irregular+invaded',
      'very-hypoechoic+taller-than-wide',
    ],
    'new.looks': ['none'],
  },
  'new.lump': {
    'new.bleeding': ['neck-nodes', 'none'],
    'new.check': ['fixed+neck-nodes', 'none', 'pulsates', 'unknown'],
    'new.examined': ['none'],
    'new.family': ['hard', 'neck-nodes', 'none', 'unknown'],
    'new.fixed-lump': ['fixed', 'fixed+pulsates'],
    'new.inr-days': ['none'],
    'new.looks': ['none'],
    'new.pregnant': ['none'],
  },
  'new.overactive': {
    'new.check': ['no'],
    'new.pregnant': ['yes'],
    'new.ultrasound': ['no'],
  },
  'new.platelets': {
    'new.drip-hours': ['any'],
  },
  'new.pregnant': {
    'new.check': ['no'],
    'new.pregnant-weeks': ['yes'],
    'new.scan': ['no'],
  },
  'new.pregnant-weeks': {
    'new.check': ['any'],
    'new.ultrasound': ['any'],
  },
  'new.scan': {
    'new.check': ['hot', 'unknown'],
    'new.ultrasound': ['hot', 'not-hot', 'unknown'],
  },
  'new.seen-before': {
    'new.breathing': ['another', 'same'],
    'new.check': ['same'],
    'new.looks': ['same'],
  },
  'new.solid-part': {
    'new.eccentric': ['any'],
  },
  'new.sponge': {
    'new.inside': ['yes'],
  },
  'new.still-open': {
    'new.breathing': ['unknown'],
  },
  'new.story': {
    'new.check': ['none'],
    'new.inr': ['none'],
    'new.lump': [
      'none',
      'rapid-growth',
      'swallowing',
      'voice-change',
      'voice-change+rapid-growth',
      'voice-change+swallowing',
    ],
  },
  'new.thinner': {
    'new.check': ['oral-anticoagulant'],
    'new.drip-hours': ['iv-antiplatelet'],
    'new.examined': ['antiplatelet', 'antiplatelet+oral-anticoagulant'],
    'new.platelets': ['heparin+iv-antiplatelet'],
  },
  'new.tsh': {
    'new.check': ['unknown'],
    'new.overactive': ['unknown'],
    'new.pregnant': ['low'],
    'new.scan': ['low'],
    'new.ultrasound': ['high', 'low', 'normal'],
  },
  'new.ultrasound': {
    'new.check': ['no-ultrasound', 'not-done-yet'],
    'new.sizes': ['linear', 'other-with-pad', 'other-without-pad'],
  },
  'node-look.flushed': {
    'labelling.label': ['flushed'],
  },
  'node-look.look': {
    'node-look.flushed': ['bloody', 'pus', 'unknown'],
  },
  'node.pot': {
    'ready.supplies': ['pot'],
  },
  'node.pulse': {
    'node.pot': ['still'],
    'ready.supplies': ['unknown'],
  },
  'node.which-level': {
    'node.pulse': ['ii', 'iii', 'low'],
    'ready.supplies': ['low'],
  },
  'ready.checks': {
    'ready.dangers': ['all', 'all+capillary', 'all+improvised-holder'],
    'ready.missing': ['clean', 'identifiers', 'still+clean+sharps'],
    'ready.pulse': ['all'],
  },
  'ready.dangers': {
    'new.breathing': ['none'],
    'ready.high-pressure': ['high-pressure'],
    'ready.pencil': ['none'],
    'ready.postpone': ['not-still'],
    'ready.sore-skin': ['sore-skin'],
    'referral.day': ['breathless-lying'],
  },
  'ready.doctor-spoke': {
    'ready.needle-doctor': ['ask-again'],
  },
  'ready.fixatives': {
    'ready.checks': [
      'alcohol-lidded',
      'alcohol-lidded+helper',
      'alcohol-lidded+spray',
      'alcohol-lidded+weak-alcohol',
      'none',
    ],
    'ready.lacking': ['none'],
    'ready.no-fixative': ['none', 'weak-alcohol'],
  },
  'ready.high-pressure': {
    'ready.needle-doctor': ['ask-doctor'],
    'ready.other-day': ['still-high'],
  },
  'ready.lacking': {
    'ready.other-day': ['other-day'],
    'ready.supplies': ['at-hand'],
  },
  'ready.missing': {
    'ready.dangers': ['all'],
  },
  'ready.needle-doctor': {
    'ready.other-day': ['other-day'],
  },
  'ready.no-fixative': {
    'ready.fixatives': ['at-hand'],
    'ready.other-day': ['other-day'],
  },
  'ready.no-needle': {
    'ready.other-day': ['other-day'],
    'ready.supplies': ['now'],
  },
  'ready.pulse': {
    'decision.refer': ['pulsates'],
    'ready.needle-doctor': ['unknown'],
  },
  'ready.sampler': {
    'ready.supplies': ['any'],
  },
  'ready.sore-skin': {
    'ready.needle-doctor': ['ask-doctor'],
  },
  'ready.supplies': {
    'ready.fixatives': ['slides-many', 'syringe+fine-needles+slides-many', 'syringe+holder+fine-needles+slides-many'],
    'ready.lacking': ['none'],
  },
  'referral.found': {
    'referral.day': ['new-day'],
  },
  'referral.seek': {
    'referral.found': ['reached'],
  },
  'referral.seen': {
    'ready.checks': ['seen'],
    'ready.dangers': ['seen'],
  },
  'rejected.reason': {
    'stands.which': ['leaked-or-dried'],
  },
  'review.due': {
    'new.breathing': ['examine'],
    'review.day': ['other-day'],
  },
  'review.left': {
    'new.breathing': ['examine'],
  },
  'sampling.after-unwell': {
    'sampling.limit': ['ask-doctor'],
  },
  'sampling.fluid-called': {
    'labelling.label': ['end-here'],
  },
  'sampling.none-usable': {
    'aftercare.neck': ['again'],
  },
  'sampling.report': {
    'labelling.fixed-time': ['not-done'],
    'sampling.slides': ['blood', 'material'],
    'sampling.slides-dried': ['material'],
    'sos.sign': ['unwell'],
  },
  'sampling.slides': {
    'labelling.fixed-time': ['none+none+wet-at-once+wet-at-once', 'wet-at-once+wet-at-once+none+none'],
    'sampling.alarm-next': ['wet-at-once+none'],
    'sampling.report': ['wet-at-once+dried', 'wet-at-once+wet-at-once'],
  },
  'sos.how': {
    'sampling.report': ['better'],
  },
  'sos.how-again': {
    'sampling.report': ['better'],
  },
  'stands.which': {
    'rejected.reason': ['not-counted'],
  },
  'target.which-neck-side': {
    'target.felt-size': ['left', 'right'],
  },
  'target.which-place': {
    'ready.supplies': ['lower', 'upper'],
    'target.which-place': ['lower'],
  },
  'target.which-side': {
    'target.felt-size': ['left', 'right'],
  },
  'unusable.seek': {
    'unusable.what-now': ['not-reached'],
  },
  'unusable.what-now': {
    'unusable.seek': ['not-found'],
  },
};
