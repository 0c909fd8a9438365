/** BAD after a result: which of the two counts is asked of the laboratory, and until it says so both are held. */
import { type Case, currentResult } from '../../case/case.ts';
import type { RejectReason } from '../../case/events.ts';
import { frozenQuestion } from '../frozen-question.ts';
import type { Interpreter } from '../interpret.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { carrier } from '../people.ts';
import type { Turn } from '../turn.ts';
import { settleQuestion } from './close-question.ts';
import { dayAt } from './common.ts';
import { resultQuestions } from './filing.ts';
import { type InLaboratory, rejection } from './receipt.ts';

/** Why such a case stands still. */
function heldWhy(item: string): string {
  return `bad-after-result:${item}`;
}

/** True: the case waits for the laboratory to say which counts. */
export function isHeldByBad(of: Case): boolean {
  return of.frozen?.startsWith(heldWhy('')) ?? false;
}

/** Holds result and BAD, tells whoever could act on the result, and asks the laboratory. `reason`: as far as it was said. */
export function askWhetherItStands(
  turn: Turn,
  interpreter: Interpreter,
  { of, specimen }: InLaboratory,
  reason: RejectReason | null,
): void {
  const isNew = !isHeldByBad(of);
  if (of.frozen === null) turn.record(of.id, { type: 'frozen', why: heldWhy(specimen.id) });
  const earlier = turn.threads.filter(
    (one) => one.caseId === of.id && one.frames.some(({ flow, item }) => flow === 'stands' && item === specimen.id),
  );
  for (const one of earlier) interpreter.remove(one.id);
  interpreter.run('stands', { caseId: of.id, item: specimen.id, vars: { reason: reason ?? '' } });
  if (!isNew) return;
  turn.notify('coordinators', 'stands.for-coordinator', 'notice', of.id, specimen.id, {});
  turn.notify('owner', 'stands.hold', 'notice', of.id, specimen.id, {});
  turn.notify('doctors', 'stands.hold-for-doctor', 'notice', of.id, specimen.id, {});
}

/** The case goes on, and no doctor need release it. */
function released(m: Moment): readonly Act[] {
  if (!m.case || !isHeldByBad(m.case)) return [];
  return [{ do: 'record', event: { type: 'released' } }, ...over(m, (about) => about === frozenQuestion.about)];
}

/** Ends the open questions to doctors about this case and specimen that are of these kinds. */
function over(m: Moment, isOf: (about: string) => boolean): readonly Act[] {
  return m.questions
    .filter((one) => one.caseId === m.case?.id && one.answeredAt === null && isOf(one.about))
    .filter((one) => one.item === null || one.item === m.specimen?.id)
    .flatMap((one) => settleQuestion(one, { now: m.now, by: 'line', answer: 'replaced' }));
}

export const stands: Matter = {
  decisions: {
    'both-held': { outcomes: ['yes', 'no'], decide: (m) => (m.case && isHeldByBad(m.case) ? 'yes' : 'no') },
    'reject-reason-said': { outcomes: ['yes', 'no'], decide: (m) => (m.frame.vars.reason ? 'yes' : 'no') },
  },
  recorders: {
    'result-stands': (m) => [
      ...released(m),
      { do: 'notify', to: 'owner', text: 'stands.go-on', lane: 'notice' },
      { do: 'notify', to: 'doctors', text: 'stands.go-on-for-doctor', lane: 'notice' },
      { do: 'notify', to: 'coordinators', text: 'stands.settled', lane: 'notice' },
    ],
    'result-void': (m) => {
      const who = m.case ? carrier(m.world, m.case) : null;
      const of = { caseId: m.case!.id, item: m.specimen!.id, vars: {} };
      const run = { kind: 'run', flow: 'not-counted', ...of, plain: 'bad' } as const;
      return [
        ...released(m),
        { do: 'record', event: { type: 'result-not-counted', specimen: m.specimen!.id } },
        ...over(m, (about) => resultQuestions.has(about)),
        { do: 'end-threads', caseId: m.case!.id, traits: { endsWhen: 'not-counted' } },
        ...(who ? [{ do: 'post', personId: who.id, what: run } as const] : []),
        { do: 'notify', to: 'coordinators', text: 'stands.settled', lane: 'notice' },
      ];
    },
    'rejected-as-said': (m) =>
      rejection(m.world, { of: m.case!, specimen: m.specimen! }, m.frame.vars.reason as RejectReason),
    'not-counted-over': (m) =>
      m.case ? [{ do: 'end-threads', caseId: m.case.id, traits: { endsWhen: 'not-counted' } }] : [],
  },
  values: {
    frozenUntil: {
      of: (m) => {
        const key = m.case && isHeldByBad(m.case) ? 'people.frozen-until-lab' : 'people.frozen-until-doctor';
        return m.world.texts.render(m.person.locale, key, () => '');
      },
      sample: 'until the lab says which result counts',
    },
    filedDay: {
      of: (m) => {
        const filed = m.specimen ? currentResult(m.specimen) : null;
        return filed ? dayAt(m, filed.at) : '';
      },
      sample: '16 MAR',
    },
  },
};
