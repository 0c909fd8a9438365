/** Something due that cannot be handled: an alarm reaches its person all the same, in words that need no case. */
import { inMarks, longestQuoted } from '../text/one-line.ts';
import type { Due } from './event.ts';
import { type Aside, personOf, type Reached, reachedFor, sayTo } from './plight.ts';
import { siteOf } from './programme.ts';

/** Writes an alarm straight to whom it was for; anything else waits for a human, and the coordinators hear. */
export function dueWithoutState(aside: Aside, due: Due): void {
  const { what } = due;
  const isNotice = what.kind === 'trouble' || (what.kind === 'tell' && what.key === 'trouble.parked-more');
  const { bare } = aside.plight;
  const receiver = personOf(aside, due.personId);
  if (bare.alarm || (what.kind === 'tell' && what.lane === 'sos')) alarmGoesOn(aside, due, receiver);
  // What tells of such faults does not tell of itself, or it would do so for ever.
  if (isNotice) return;
  const who = receiver?.name ?? due.personId ?? '-';
  aside.tellCoordinators('aside.for-coordinator-due', who);
}

function alarmGoesOn(aside: Aside, due: Due, receiver: Reached | null): void {
  const { bare, roster } = aside.plight;
  if (!aside.once('alarm', `due:${due.personId ?? '-'}`)) return;
  const clinic = personOf(aside, bare.clinic?.personId ?? null);
  const ownPhone = due.personId !== null && isOfClinic(aside, due.personId);
  if (receiver && ownPhone && bare.person?.state !== 'suspended') {
    sayTo(aside, receiver, 'aside.alarm-yours', 'sos');
    if (due.what.kind === 'answered') {
      const doctor = roster.find((one) => one.id === (due.what.kind === 'answered' ? due.what.by : ''))?.name ?? '';
      sayTo(aside, receiver, 'aside.doctor-said', 'sos', { doctor, words: answerWords(aside, due, receiver) });
    }
  }
  // For a responder: that one; where it is nobody's, or the clinic's own phone is stuck, everybody who can help.
  const helpers = [...reachedFor(aside, 'doctors', null), ...reachedFor(aside, 'coordinators', null)];
  const one = receiver && !ownPhone && bare.person?.state === 'joined' ? [receiver] : [];
  const heard = one.length > 0 ? one : helpers;
  const key = clinic?.number == null ? 'aside.alarm-goes-on-no-number' : 'aside.alarm-goes-on';
  const vars = { who: clinic?.name ?? '?', site: siteName(aside, due, clinic), number: clinic?.number ?? '' };
  const seen = new Set<string | null>();
  for (const to of heard) {
    if (seen.has(to.id)) continue;
    seen.add(to.id);
    sayTo(aside, to, key, 'sos', vars);
  }
}

/** The phone of somebody who is with the patient, not of somebody who is asked to help. */
function isOfClinic(aside: Aside, personId: string): boolean {
  const { bare, roster } = aside.plight;
  if (bare.clinic?.personId === personId) return true;
  const roles = roster.find((one) => one.id === personId)?.roles ?? [];
  return !roles.includes('doctor') && !roles.includes('coordinator');
}

function siteName(aside: Aside, due: Due, clinic: Reached | null): string {
  const { bare, programme } = aside.plight;
  const from = due.what.kind === 'tell' ? due.what.vars.fromSite : undefined;
  const site = bare.clinic?.siteId ?? (typeof from === 'string' ? from : null);
  return site === null ? (clinic?.site ?? '?') : siteOf(programme, site).name;
}

function answerWords(aside: Aside, due: Due, to: Reached): string {
  if (due.what.kind !== 'answered') return '';
  const { answer, words } = due.what;
  const label = answer === 'words' ? '' : aside.plight.texts.label(to.locale, 'sos', answer);
  return [label, inMarks(words, longestQuoted)].filter((one) => one !== '').join(': ');
}
