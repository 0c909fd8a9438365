/** How often a worker leaves a question until it comes again. */

/** Of any question. */
const usual = 0.02;

/** Where silence has a way of its own, or a doctor's word may come first. By `flow.step`. */
const often: Readonly<Record<string, number>> = {
  'aftercare.no-sample': 0.4,
  'aftercare.away-asked': 0.4,
  'aftercare.box': 0.25,
  'aftercare.closing-dried': 0.25,
  'action.node-benign': 0.15,
  'action.urgent': 0.25,
  'action.seek': 0.6,
  'decision.emergency': 0.2,
  'decision.urgent-asked': 0.6,
  'decision.allowed-urgent': 0.4,
  'decision.examine-again': 0.3,
  'decision.urgent-day': 0.1,
  'freeze.sure': 0.3,
  'lab-asks.question': 0.3,
  'review.due': 0.25,
  'referral.seek': 0.3,
  'sampling.after-unwell': 0.2,
  'sampling.alarm-next': 0.7,
  'sampling.fluid-doctor': 0.5,
  'sampling.limit': 0.8,
  'ready.needle-doctor': 0.4,
  'ready.postpone': 0.3,
  'left.seek': 0.3,
  'sos.stick-time': 0.3,
  'unusable.seek': 0.4,
  'unusable.what-now': 0.2,
};

export const silenceAt = (state: string): number => often[state] ?? usual;
