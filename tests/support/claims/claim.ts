/** A text that claims something, with what must then be so of the record. */
import type { Case, Specimen } from '../../../src/case/case.ts';
import type { CaseRecord } from '../../../src/case/events.ts';
import type { Due } from '../../../src/conversation/event.ts';
import type { ConversationState, Question } from '../../../src/conversation/state.ts';
import type { Person, Role } from '../../../src/conversation/world.ts';
import type { TextKey } from '../../../src/generated/text-keys.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';

/** How things stood when a text was committed; `toldNow` and `told` alone look on, to the end of the same instant. */
export interface Scene {
  readonly said: OutboundMessage;
  /** What stood at the text's placeholders. */
  readonly values: Readonly<Record<string, string>>;
  readonly to: Person | null;
  readonly of: Case | null;
  /** The specimen whose code the text carries, else the case's first. */
  readonly specimen: Specimen | null;
  readonly records: readonly CaseRecord[];
  /** Unanswered questions about the case. */
  readonly open: readonly Question[];
  /** Unanswered questions that were put to whoever is told. */
  readonly askedHere: readonly Question[];
  /** Every question about the case; of a text about no case those about none. */
  readonly questions: readonly Question[];
  /** Due rows for whoever is told, and for the case. */
  readonly waiting: readonly Due[];
  /** The conversation of whoever is told. */
  readonly state: ConversationState | null;
  /** Open cases that whoever is told carries. */
  readonly carried: readonly Case[];
  readonly people: readonly Person[];
  /** True: people of a role, or one by name, were sent something about this case, or about whoever is told, in this instant. */
  toldNow(who: Role | string): boolean;
  /** The same, with this text: the day may begin in the same instant. */
  toldWith(who: Role | string): boolean;
  /** The same, at any time until now. */
  told(who: Role | string): boolean;
}

export interface Claim {
  readonly keys: readonly TextKey[];
  /** What is claimed, in words of the record. */
  readonly says: string;
  readonly holds: (scene: Scene) => boolean;
}

/** True: people of this role can be reached by the line. */
export function isReachable(scene: Pick<Scene, 'people'>, role: Role): boolean {
  return scene.people.some((one) => one.state === 'joined' && one.roles.includes(role) && one.addresses.length > 0);
}

/** True: others of this role than whoever is told can be reached by the line. */
export function isAnotherReachable({ people, to }: Scene, role: Role): boolean {
  return isReachable({ people: people.filter((one) => one.id !== to?.id) }, role);
}

/** True: somebody told so will be asked or reminded later. */
export function comesBack(scene: Scene): boolean {
  return scene.waiting.some((one) => one.dueAt > scene.said.at);
}

/** True: a doctor is asked about the case, or there is none and the text says so. */
export function isDoctorAsked(scene: Scene): boolean {
  const named = scene.values.doctorAsked ?? '';
  if (named.startsWith('NO DOCTOR')) return !isReachable(scene, 'doctor');
  return scene.questions.some((one) => one.answeredAt === null);
}

/** True: the screen itself carries a code, and not only another one that came with it. */
export function namesCode({ values }: Scene): boolean {
  return /\d{4} ?\d{4}/u.test(Object.values(values).join(' '));
}

/** True: a doctor was told of it, or there is none and the text says so. */
export function isDoctorTold(scene: Scene): boolean {
  const named = scene.values.doctorAsked ?? '';
  return named.startsWith('NO DOCTOR') ? !isReachable(scene, 'doctor') : scene.told('doctor');
}
