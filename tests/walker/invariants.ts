/** All that must hold of every walked patient. */

import { alarmLifted } from './invariants/alarm-lifted.ts';
import { asExamined } from './invariants/as-examined.ts';
import { askedOnce } from './invariants/asked-once.ts';
import { cautionsTold } from './invariants/cautions-told.ts';
import { claimsTrue } from './invariants/claims-true.ts';
import { codeAsSent } from './invariants/code-as-sent.ts';
import { decisionAgrees } from './invariants/decision-agrees.ts';
import { detailsStay } from './invariants/details-stay.ts';
import { doctorAcknowledged } from './invariants/doctor-acknowledged.ts';
import { doubtsKept } from './invariants/doubts-kept.ts';
import { fluidHeeded } from './invariants/fluid-heeded.ts';
import { freshFindings } from './invariants/fresh-findings.ts';
import type { Invariant } from './invariants/invariant.ts';
import { needleAgreed } from './invariants/needle-agreed.ts';
import { noNeedle } from './invariants/no-needle.ts';
import { owed } from './invariants/owed.ts';
import { pressingOwed } from './invariants/pressing-owed.ts';
import { reasonsTold } from './invariants/reasons-told.ts';
import { recordAsSaid } from './invariants/record-as-said.ts';
import { resultTold } from './invariants/result-told.ts';
import { saidInFull } from './invariants/said-in-full.ts';
import { sameNames } from './invariants/same-names.ts';
import { sideAsSaid } from './invariants/side-as-said.ts';
import { specimenFirst } from './invariants/specimen-first.ts';
import { stopSaid } from './invariants/stop-said.ts';
import { unknownNotAbsent } from './invariants/unknown-not-absent.ts';
import { watchEnded } from './invariants/watch-ended.ts';
import { watchedLong } from './invariants/watched-long.ts';
import { wholeTexts } from './invariants/whole-texts.ts';

export const invariants: readonly Invariant[] = [
  specimenFirst,
  sameNames,
  sideAsSaid,
  asExamined,
  noNeedle,
  needleAgreed,
  freshFindings,
  stopSaid,
  reasonsTold,
  unknownNotAbsent,
  recordAsSaid,
  askedOnce,
  owed,
  wholeTexts,
  decisionAgrees,
  saidInFull,
  codeAsSent,
  doubtsKept,
  doctorAcknowledged,
  watchedLong,
  watchEnded,
  claimsTrue,
  resultTold,
  pressingOwed,
  fluidHeeded,
  detailsStay,
  cautionsTold,
  alarmLifted,
];
