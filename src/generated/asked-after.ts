// Written by `npm run asked-after` from tests/conversations; a test compares.
/** Questions that came right after one, with the answers that led there: ids, `a+b` for several, `any` for a number. */
export const askedAfter: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  '-.refer-first': {
    '-.thy4': ['refer'],
  },
  '-.thy3': {
    '-.refer-first': ['repeat'],
  },
  'action.refer': {
    'action.refer': ['calling'],
    'action.repeat': ['calling'],
    'action.tell': ['calling'],
  },
  'action.urgent': {
    'action.seek': ['not-found'],
    'action.tell': ['calling'],
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
  },
  'decision.elsewhere': {
    'referral.day': ['told'],
  },
  'decision.emergency-waits': {
    'referral.day': ['on-the-way'],
  },
  'decision.examine': {
    'decision.released': ['ask-doctor'],
    'new.examined': ['done'],
  },
  'decision.examine-again': {
    'referral.day': ['not-possible'],
  },
  'decision.refer': {
    'referral.day': ['told'],
  },
  'decision.released': {
    'decision.which-day': ['other-day'],
    'ready.supplies': ['now'],
    'target.which-side': ['now'],
  },
  'decision.sample': {
    'decision.which-day': ['other-day'],
    'ready.needle-doctor': ['now'],
    'ready.sampler': ['now'],
    'ready.supplies': ['now'],
  },
  'decision.today': {
    'new.breathing': ['now'],
  },
  'decision.urgent-sample': {
    'decision.urgent-day': ['now'],
    'referral.day': ['refer-only'],
  },
  'labelling.book': {
    'aftercare.closing-dried': ['written'],
    'labelling.label': ['written'],
    'referral.day': ['written'],
  },
  'labelling.fixed-time': {
    'labelling.label': ['unknown'],
  },
  'labelling.label': {
    'labelling.again': ['not-same'],
    'labelling.book': ['all-same'],
  },
  'new.bleeding': {
    'new.check': ['bleeding-disorder'],
    'new.examined': ['none', 'unknown'],
    'new.inr': ['warfarin', 'warfarin+other-thinner'],
    'new.pregnant': ['none'],
    'new.thinner': ['other-thinner'],
  },
  'new.breathing': {
    'decision.emergency': ['stridor'],
    'new.story': ['breathless', 'none'],
  },
  'new.bright': {
    'new.check': ['none', 'punctate'],
    'new.felt': ['punctate'],
    'new.inside': ['none', 'punctate'],
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
    'decision.urgent-refer': ['yes'],
    'decision.urgent-sample': ['yes'],
    'new.breathing': ['yes'],
    'new.family': ['family'],
    'new.lump': ['lump'],
    'new.sizes': ['sizes'],
  },
  'new.drip-hours': {
    'new.check': ['any'],
  },
  'new.examined': {
    'new.check': ['not-examined'],
    'new.sizes': ['right'],
    'new.tsh': ['not-felt', 'right', 'right+left'],
    'new.ultrasound': ['right'],
  },
  'new.family': {
    'new.bleeding': ['neck-irradiation+unknown', 'none', 'unknown'],
    'new.check': ['family-medullary', 'none'],
  },
  'new.felt': {
    'new.inside': ['no', 'yes'],
  },
  'new.fixed-lump': {
    'new.family': ['node'],
  },
  'new.inr-days': {
    'new.check': ['any'],
    'new.examined': ['any'],
    'new.inr-changed': ['any'],
    'new.thinner': ['any'],
  },
  'new.inside': {
    'new.check': ['solid'],
    'new.looks': ['solid', 'unknown'],
    'new.sponge': ['spongiform'],
  },
  'new.inside-again': {
    'new.sponge': ['spongiform'],
  },
  'new.looks': {
    'new.bright': ['hypoechoic', 'hypoechoic+irregular', 'hypoechoic+taller-than-wide+irregular', 'none', 'unknown'],
  },
  'new.lump': {
    'new.bleeding': ['none'],
    'new.check': ['fixed+neck-nodes', 'none', 'pulsates', 'unknown'],
    'new.examined': ['none'],
    'new.family': ['neck-nodes', 'none'],
    'new.fixed-lump': ['fixed'],
  },
  'new.platelets': {
    'new.drip-hours': ['any'],
  },
  'new.pregnant': {
    'new.check': ['no', 'unknown'],
    'new.scan': ['unknown'],
  },
  'new.scan': {
    'new.check': ['hot'],
    'new.ultrasound': ['not-hot', 'unknown'],
  },
  'new.seen-before': {
    'new.breathing': ['another', 'same'],
    'new.check': ['same'],
    'new.looks': ['same'],
  },
  'new.sponge': {
    'new.inside': ['yes'],
  },
  'new.still-open': {
    'new.looks': ['another'],
  },
  'new.story': {
    'new.lump': ['none', 'rapid-growth', 'voice-change'],
  },
  'new.thinner': {
    'new.examined': ['antiplatelet'],
    'new.platelets': ['heparin+iv-antiplatelet'],
  },
  'new.tsh': {
    'new.pregnant': ['low'],
    'new.scan': ['low'],
    'new.ultrasound': ['high', 'low', 'normal'],
  },
  'new.ultrasound': {
    'new.check': ['no-ultrasound', 'not-done-yet'],
    'new.sizes': ['linear', 'other-without-pad'],
  },
  'node-look.look': {
    'node-look.flushed': ['pus'],
  },
  'node.pot': {
    'ready.supplies': ['pot'],
  },
  'node.pulse': {
    'node.pot': ['still'],
    'ready.supplies': ['unknown'],
  },
  'node.which-level': {
    'node.pulse': ['ii', 'iii'],
    'ready.supplies': ['low'],
  },
  'ready.checks': {
    'ready.dangers': ['all', 'all+capillary', 'all+improvised-holder'],
    'ready.missing': ['clean', 'still+clean+sharps'],
  },
  'ready.dangers': {
    'ready.high-pressure': ['high-pressure'],
    'ready.pencil': ['none'],
    'ready.postpone': ['not-still'],
    'ready.sore-skin': ['sore-skin'],
  },
  'ready.fixatives': {
    'ready.checks': ['alcohol-lidded+helper', 'alcohol-lidded+weak-alcohol', 'none'],
  },
  'ready.high-pressure': {
    'ready.other-day': ['still-high'],
  },
  'ready.missing': {
    'ready.dangers': ['all'],
  },
  'ready.no-needle': {
    'ready.other-day': ['other-day'],
    'ready.supplies': ['now'],
  },
  'ready.sampler': {
    'ready.supplies': ['any'],
  },
  'ready.sore-skin': {
    'ready.needle-doctor': ['ask-doctor'],
  },
  'ready.supplies': {
    'ready.fixatives': ['syringe+fine-needles+slides-many'],
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
  'sampling.report': {
    'sampling.fluid': ['fluid'],
    'sampling.slides': ['material'],
    'sampling.slides-dried': ['material'],
  },
  'sampling.slides': {
    'labelling.fixed-time': ['none+none+wet-at-once+wet-at-once', 'wet-at-once+wet-at-once+none+none'],
    'sampling.alarm-next': ['wet-at-once+none'],
    'sampling.report': ['wet-at-once+dried', 'wet-at-once+wet-at-once'],
  },
  'sos.how': {
    'new.breathing': ['better'],
    'sampling.after-unwell': ['better'],
    'sos.sign': ['same'],
  },
  'target.which-neck-side': {
    'target.felt-size': ['left', 'right'],
  },
  'target.which-side': {
    'target.felt-size': ['left'],
  },
};
