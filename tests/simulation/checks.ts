/** What must hold of a month, whoever was late, wrong or silent. */
import type { Case } from '../../src/case/case.ts';
import { dutyOf } from '../../src/case/duty.ts';
import { dutyTimes } from '../../src/conversation/duties.ts';
import { laboratoryOf } from '../../src/conversation/programme.ts';
import { type Town, townContent } from './town.ts';

const dayMs = 86_400_000;
const { programme } = townContent;

/** Open cases without somebody who owes the next step by an instant that is not long past. */
export function forgotten(town: Town): string[] {
  return [...town.cases.values()]
    .filter((one) => one.status !== 'closed')
    .flatMap((one) => {
      const duty = dutyTimes(programme, one.siteId, (msOf, dayStart) => dutyOf(one, msOf, dayStart));
      if (!duty) return [`${named(one)}: nobody owes anything`];
      if (duty.dueAt < town.now - 2 * dayMs) return [`${named(one)}: due ${day(duty.dueAt)} and nobody was reminded`];
      if (!town.agents.has(one.ownerId)) return [`${named(one)}: carried by nobody`];
      return [];
    });
}

/** Texts about a case to people who have no part in it. */
export function misdirected(town: Town): string[] {
  return town.sent.flatMap((message) => {
    const of = message.caseId === null ? null : town.cases.get(message.caseId);
    const to = message.personId === null ? null : (town.agents.get(message.personId)?.person ?? null);
    if (!of) return [];
    if (!to) return [`${named(of)}: a stranger got ${message.step}`];
    const [role] = to.roles;
    if (role === 'doctor' || role === 'coordinator') return [];
    if (role === 'worker' && to.siteId === of.siteId) return [];
    const posted = of.specimens.some((one) => one.postedAt !== null && one.postedAt <= message.at);
    if (role === 'lab' && posted && to.siteId === laboratoryOf(programme, of.siteId).id) return [];
    return [`${named(of)}: ${to.id} got ${message.step}`];
  });
}

/** A result is acknowledged by a doctor even where the patient was seen before one answered. */
const acknowledged: ReadonlySet<string> = new Set([
  'thy1',
  'thy2-discordant',
  'thy3',
  'thy4',
  'thy5',
  'asked',
  'wrong',
]);

/** Questions that are still asked though what they ask about is over. */
export function askedForNothing(town: Town): string[] {
  return [...town.questions.values()].flatMap((one) => {
    const of = one.caseId === null ? null : town.cases.get(one.caseId);
    const over = of?.status === 'closed' || of?.specimens.find((each) => each.id === one.item)?.end != null;
    if (!of || !over || one.answeredAt !== null || acknowledged.has(one.about)) return [];
    return [`${named(of)}: ${one.about} of ${day(one.openedAt)} is still asked`];
  });
}

/** The longest that a case stood in one status until the end of the month, days. */
export function longestWait(town: Town): { readonly days: number; readonly who: string } {
  const open = [...town.cases.values()].filter((one) => one.status !== 'closed');
  const waits = open.map((one) => ({ days: (town.now - one.statusAt) / dayMs, who: `${one.tag} ${one.status}` }));
  return waits.sort((a, b) => b.days - a.days)[0] ?? { days: 0, who: '-' };
}

/** Open cases of which nobody who still answers has heard for this time. */
export function unheard(town: Town, forMs: number): string[] {
  const open = [...town.cases.values()].filter((one) => one.status !== 'closed' && one.changedAt < town.now - forMs);
  return open.flatMap((one) => {
    const heard = town.sent.some(
      (message) =>
        message.caseId === one.id &&
        message.at > town.now - forMs &&
        message.personId !== null &&
        !town.mute(message.personId, town.now),
    );
    return heard ? [] : [`${named(one)}: silence since ${day(one.changedAt)}`];
  });
}

/** The same text about a case to one person over and over: what floods a phone drowns the next alarm. */
export function floods(town: Town, most: number): string[] {
  // The screens of one text go out at one instant and are one.
  const instants = new Map<string, Set<number>>();
  for (const one of town.sent) {
    const key = `${one.personId} ${one.caseId ?? ''} ${one.step} ${day(one.at)}`;
    instants.set(key, (instants.get(key) ?? new Set()).add(one.at));
  }
  return [...instants].filter(([, at]) => at.size > most).map(([key, at]) => `${at.size} times ${key}`);
}

function named(of: Case): string {
  return `${of.tag} ${of.specimens[0]?.code ?? of.id} (${of.status})`;
}

function day(at: number): string {
  return new Date(at).toISOString().slice(0, 10);
}
