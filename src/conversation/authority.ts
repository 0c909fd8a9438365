/**
 * Who may do what, and how it must be proven. On SMS a sender's number is a claim: it may ask, add findings and raise an
 * alarm. Whatever lets go, files, or changes a person quotes digits that the line sent to the real phone. A new doctor,
 * laboratory or coordinator, or a change of their number, takes two people or the command line.
 */
import { type Role, roles } from '../case/roles.ts';

/** `number`: the sender's number alone. `challenge`: digits that the line sent to that phone. `two-people`: two of those. */
export type Proof = 'number' | 'challenge' | 'two-people';

export interface Authority {
  /** What is done, in plain words. */
  readonly action: string;
  readonly by: readonly Role[];
  readonly proof: Proof;
  /** The command's keyword, or `flow.state` of the question whose answer does it. */
  readonly at: string;
}

/** The whole table. Number alone never stands for anything that lets go. */
export const authorities: readonly Authority[] = [
  { action: 'call for help', by: roles, proof: 'number', at: 'SOS' },
  { action: 'leave the line, come back to it', by: roles, proof: 'number', at: 'STOP' },
  {
    action: 'leave the line as the last of a role, or with a patient in hand',
    by: roles,
    proof: 'challenge',
    at: 'STOP, YES',
  },
  { action: 'begin a patient, answer, add findings', by: ['worker'], proof: 'number', at: 'NEW' },
  { action: 'ask the doctor', by: ['worker'], proof: 'number', at: 'DOCTOR' },
  { action: 'carry on a case of the own site', by: ['worker'], proof: 'number', at: 'TAKE' },
  { action: 'see lists and cases', by: roles, proof: 'number', at: 'CASE' },
  { action: 'say that a message was not theirs', by: ['worker', 'doctor', 'lab'], proof: 'number', at: 'WRONG' },
  {
    action: 'take back the own WRONG while nobody else has acted',
    by: ['worker'],
    proof: 'challenge',
    at: 'YES',
  },
  { action: 'report a parcel as come or unusable', by: ['lab'], proof: 'number', at: 'GOT' },
  { action: 'end an alarm', by: roles, proof: 'challenge', at: 'sos.how' },
  { action: 'file a result', by: ['lab'], proof: 'challenge', at: 'YES' },
  { action: 'open locked results again', by: ['coordinator'], proof: 'challenge', at: 'locked.phone' },
  { action: 'end a case before its needle', by: ['coordinator'], proof: 'challenge', at: 'END' },
  { action: 'state the budget of texts', by: ['coordinator'], proof: 'challenge', at: 'credit.confirm' },
  { action: 'answer a question of the ladder so that something goes on', by: ['doctor'], proof: 'challenge', at: 'Q' },
  { action: 'take a phone off the line, the own one too', by: roles, proof: 'challenge', at: 'staff.confirm' },
  { action: 'hand over the cases of a worker', by: ['coordinator'], proof: 'challenge', at: 'staff.confirm' },
  { action: 'give another phone a fresh start', by: ['coordinator'], proof: 'challenge', at: 'staff.confirm' },
  { action: 'add a worker, change the number of one', by: ['coordinator'], proof: 'challenge', at: 'staff.confirm' },
  { action: 'bring a worker back', by: ['coordinator'], proof: 'challenge', at: 'staff.confirm' },
  {
    action: 'add or bring back a doctor, laboratory or coordinator, change their number',
    by: ['coordinator'],
    proof: 'two-people',
    at: 'second.confirm',
  },
];

/** Changes of the roster by text. */
export const rosterActs = ['add', 'change', 'suspend', 'lost', 'restore', 'hand-over', 'fresh'] as const;
export type RosterAct = (typeof rosterActs)[number];

/** Acts after which somebody is on the line who was not, or under a number that was not theirs. */
const letsIn: ReadonlySet<RosterAct> = new Set<RosterAct>(['add', 'change', 'restore']);

/** What a change of the roster needs: two people where it lets in anybody but a worker. */
export function proofFor(act: RosterAct, roles: readonly string[]): Proof {
  return letsIn.has(act) && roles.some((role) => role !== 'worker') ? 'two-people' : 'challenge';
}

/** Who may be the second: a coordinator, or a doctor where there is no other coordinator. */
export const seconds: readonly Role[] = ['coordinator', 'doctor'];

/** Case events that let go or file. A case in which a lost phone did one of these waits for a doctor. */
export const lettingGo: ReadonlySet<string> = new Set([
  'result-filed',
  'doctor-answered',
  'acknowledged',
  'released',
  'results-unlocked',
  'aftercare-done',
  'sos-over',
  'phoned',
  'told',
  'attended',
  'specimen-closed',
  'not-sampled',
  'closed',
]);
