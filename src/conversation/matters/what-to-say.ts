/** What a worker may read aloud to the patient, by where the case stands: never more than it records. */
import { needleStatuses } from '../../case/bedside.ts';
import { answerOf, type Case, type CaseStatus, currentResult, type Specimen, specimenOf } from '../../case/case.ts';
import { assertNever } from '../../clinical/assert-never.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { refersBy } from './filing.ts';
import { isPressingResult, type ResultKind, resultKind } from './result-kind.ts';

/** Name of a text of `say.json`. */
export type Saying = KeyIn<'say'>;

/** What the case alone does not know. */
export interface Around {
  /** `emergency`: to be on the way to a hospital. `first-aid`: an alarm with first aid. */
  readonly alarm: 'emergency' | 'first-aid' | null;
  /** A doctor is being asked what the patient gets instead of a lost parcel. */
  readonly parcelLost: boolean;
}

/** The words for this patient now; `item`: the specimen that is meant, where one is. */
export function whatToSay(of: Case, item: string | null, around: Around): Saying {
  if (around.alarm !== null) return around.alarm;
  // What stands still is said to be so; the needle's own hour goes on all the same.
  if (of.frozen !== null && !needleStatuses.has(of.status)) return 'stopped';
  const specimen = specimenOf(of, item);
  if (specimen !== null && specimen.rejected !== null) return 'unusable';
  if (specimen !== null && currentResult(specimen) !== null) return ofResult(of, specimen);
  if (isLeaving(of) && answerOf(of, 'left') === 'refuses') return 'refusal';
  return ofStatus(of, of.status, around);
}

/** No needle yet, or none any more. */
function isLeaving({ status }: Case): boolean {
  return !needleStatuses.has(status) && status !== 'posting' && status !== 'posted' && status !== 'received';
}

function ofStatus(of: Case, status: CaseStatus, around: Around): Saying {
  switch (status) {
    case 'findings':
      return 'findings';
    case 'decision':
      return ofDecision(of);
    case 'readiness':
      return 'consent';
    case 'sampling':
      return 'needle';
    case 'labelling':
      return 'after-needle';
    case 'aftercare':
      return 'going-home';
    case 'posting':
    case 'posted':
    case 'received':
      if (answerOf(of, 'parcel') === 'referred') return 'referral';
      return around.parcelLost ? 'parcel-lost' : 'waiting';
    case 'action':
      return 'waiting';
    case 'closed':
      return of.notSampled === null ? 'nothing' : ofNoNeedle(of);
    default:
      return assertNever(status);
  }
}

/** A needle that was in and gave nothing; where the patient was sent; else what the findings ask for. */
function ofDecision(of: Case): Saying {
  if (of.specimens.length > 0) return 'no-sample';
  if (of.notSampled !== null) return ofNoNeedle(of);
  switch (of.decided?.decision) {
    case 'emergency-now':
      return 'emergency';
    case 'refer-urgent':
      return 'referral-urgent';
    case 'refer-first':
    case 'sample-elsewhere':
      return 'referral';
    case 'sample':
    case 'optional':
      return 'consent';
    case 'follow-up':
      return 'follow-up';
    case 'no-sampling':
      return 'no-needle';
    case 'ask-doctor':
      return 'doctor-decides';
    default:
      return 'findings';
  }
}

/** By the reason that was recorded; nothing is made up for one that says nothing to the patient. */
const noNeedle: Readonly<Record<string, Saying>> = {
  'referred-urgently': 'referral-urgent',
  referred: 'referral',
  'not-thyroid': 'referral',
  'no-usable-sample': 'no-sample',
  'follow-up': 'follow-up',
  drained: 'follow-up',
  'no-sampling': 'no-needle',
};

function ofNoNeedle({ notSampled }: Case): Saying {
  return noNeedle[notSampled?.why ?? ''] ?? 'nothing';
}

/** Words for a result: the patient's own no first, then the doctor's word, then what the result asks for by itself. */
function ofResult(of: Case, specimen: Specimen): Saying {
  const kind = resultKind(of, specimen.id);
  const own = ofKind(specimen, kind);
  if (specimen.told === 'refuses') return 'refusal-of-result';
  if (isPressingResult(of, specimen.id)) return own;
  const advice = specimen.acknowledgement ?? '';
  const isMild = own === 'benign' || own === 'node-benign' || own === 'unreadable' || own === 'cyst-fluid';
  if (refersBy.has(advice)) return isMild || kind === 'discordant' ? 'doctor-refers' : own;
  if (advice === 'repeat') return own === 'unreadable' || own === 'cyst-fluid' ? own : 'doctor-repeats';
  if (advice === 'agree' && kind === 'discordant') return 'benign';
  return own;
}

function ofKind(specimen: Specimen, kind: ResultKind): Saying {
  const { canonical, types = [] } = currentResult(specimen)!.result;
  // Words that name a grave illness are never softened by the category beside them.
  const isNamed = types.length > 0;
  switch (kind) {
    case 'urgent':
      if (canonical === 'Thy5') return 'bad-news-seen';
      return canonical === 'Thy4' ? 'bad-news-likely' : 'bad-news-named';
    case 'node-urgent':
      if (canonical === 'L5') return 'bad-news-node-seen';
      if (canonical === 'L4') return 'bad-news-node-likely';
      return isNamed ? 'bad-news-named' : 'node-unclear';
    case 'refer':
      if (isNamed) return 'bad-news-named';
      return canonical === 'Thy3f' ? 'not-by-needle' : 'unclear';
    case 'second-atypia':
      return isNamed ? 'bad-news-named' : 'unclear-again';
    case 'second':
    case 'node-second':
      return isNamed ? 'bad-news-named' : 'unreadable-again';
    case 'repeat':
      return canonical === 'Thy1c' ? 'cyst-fluid' : 'unreadable';
    case 'node-repeat':
      return 'unreadable';
    case 'benign':
      return 'benign';
    case 'discordant':
      return isNamed ? 'bad-news-named' : 'not-fitting';
    case 'node-treat':
      return 'node-treat';
    case 'node-benign':
      return 'node-benign';
    default:
      return assertNever(kind);
  }
}
