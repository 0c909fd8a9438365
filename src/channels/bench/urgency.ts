/** How urgent a text is on its phone, so that an emergency, what cannot wait for tomorrow and a receipt look different. */
import type { QuestionAbout } from '../../conversation/flow.ts';
import type { FlowName } from '../../generated/flow-names.ts';
import type { StateName } from '../../generated/state-names.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import type { SaidText } from '../../line/ports.ts';

/** `now`: somebody may be in danger; `today`: the patient waits, or it is to be done on the same day; `plain`: the rest. */
export type Urgency = 'now' | 'today' | 'plain';

/** Texts of an alarm that say that it is over. */
const over: ReadonlySet<string> = new Set<TextKey>(['sos.over', 'sos.over-for-doctor', 'cry.over']);

/** Doctors' questions that wait with the patient, or that a day more may hurt. */
const pressing: ReadonlySet<string> = new Set<QuestionAbout>([
  'urgent-referral',
  'decision',
  'decision-cyst',
  'decision-stopped',
  'urgent-decision',
  'urgent-decision-cyst',
  'urgent-decision-stopped',
  'referral-stopped',
  'too-many-attempts',
  'fluid-came',
  'before-needle',
  'label-mismatch',
  'left-unwatched',
  'thy4',
  'thy5',
  'typed',
  'node-urgent',
  'node-treat',
  'phoned',
  'result-stopped',
]);

/** The same for whoever the patient is with: questions by flow and state, texts by key. */
const pressingStates: ReadonlySet<string> = new Set<`${FlowName} ${StateName}`>([
  'action urgent',
  'decision urgent-sample',
  'decision urgent-refer',
  'decision urgent-ask',
  'decision urgent-day',
  'decision urgent-asked',
  'decision allowed-urgent',
]);
const pressingTexts: ReadonlySet<string> = new Set<TextKey>(['action.airway', 'decision.refer-how-urgent']);

/** From the lane in which a text of the line was said, its flow and its step (a state, a question's subject or a text's key). */
export function urgencyOf({ lane, flow, step }: Pick<SaidText, 'lane' | 'flow' | 'step'>): Urgency {
  if (over.has(step)) return 'plain';
  if (lane === 'sos') return 'now';
  const isPressing = pressing.has(step) || pressingTexts.has(step) || pressingStates.has(`${flow} ${step}`);
  return isPressing ? 'today' : 'plain';
}
