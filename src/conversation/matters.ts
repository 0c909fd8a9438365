/** Every subject of the conversations, put together once. */
import { action } from './matters/action.ts';
import { aftercare } from './matters/aftercare.ts';
import { again } from './matters/again.ts';
import { alarmSaid } from './matters/alarm-said.ts';
import { alarmTold } from './matters/alarm-told.ts';
import { ask } from './matters/ask.ts';
import { askedWhen } from './matters/asked-when.ts';
import { calcitoninRinse } from './matters/calcitonin-rinse.ts';
import { common } from './matters/common.ts';
import { decision } from './matters/decision.ts';
import { desk } from './matters/desk.ts';
import { doctorYes } from './matters/doctor-yes.ts';
import { drainage } from './matters/drainage.ts';
import { dutyHours } from './matters/duty-hours.ts';
import { endMatter } from './matters/end.ts';
import { exits } from './matters/exits.ts';
import { findings } from './matters/findings.ts';
import { fluid } from './matters/fluid.ts';
import { freezeMatter } from './matters/freeze.ts';
import { goesOn } from './matters/goes-on.ts';
import { hindrances } from './matters/hindrances.ts';
import { labelling } from './matters/labelling.ts';
import { laboratory } from './matters/laboratory.ts';
import { laboratoryDesk } from './matters/laboratory-desk.ts';
import { languageMatter } from './matters/language.ts';
import { leftLumps } from './matters/left-lumps.ts';
import { link } from './matters/link.ts';
import { lostParcel } from './matters/lost-parcel.ts';
import { node } from './matters/node.ts';
import { nothingLeft } from './matters/nothing-left.ts';
import { otherWords } from './matters/other-words.ts';
import { people } from './matters/people.ts';
import { position } from './matters/position.ts';
import { posting } from './matters/posting.ts';
import { reach } from './matters/reach.ts';
import { ready } from './matters/ready.ts';
import { receipt } from './matters/receipt.ts';
import { reportMatter } from './matters/report.ts';
import { request } from './matters/request.ts';
import { resultExpected } from './matters/result-expected.ts';
import { roster } from './matters/roster.ts';
import { knownPatient } from './matters/same-patient.ts';
import { sampling } from './matters/sampling.ts';
import { sayMatter } from './matters/say.ts';
import { shared } from './matters/shared.ts';
import { sos } from './matters/sos.ts';
import { stands } from './matters/stands.ts';
import { stock } from './matters/stock.ts';
import { target } from './matters/target.ts';
import { voice } from './matters/voice.ts';
import { whomToPhone } from './matters/whom-to-phone.ts';
import { registryOf } from './registry.ts';

/** Decisions, recorders, values, readers, instants and commands by name. */
export const registry = registryOf([
  common,
  goesOn,
  desk,
  otherWords,
  sayMatter,
  findings,
  knownPatient,
  decision,
  doctorYes,
  drainage,
  target,
  hindrances,
  again,
  node,
  calcitoninRinse,
  ready,
  sampling,
  fluid,
  position,
  labelling,
  aftercare,
  posting,
  request,
  exits,
  endMatter,
  lostParcel,
  receipt,
  resultExpected,
  laboratory,
  stands,
  action,
  nothingLeft,
  reach,
  languageMatter,
  voice,
  sos,
  alarmSaid,
  alarmTold,
  ask,
  askedWhen,
  people,
  freezeMatter,
  roster,
  dutyHours,
  laboratoryDesk,
  stock,
  shared,
  reportMatter,
  leftLumps,
  link,
  whomToPhone,
]);
