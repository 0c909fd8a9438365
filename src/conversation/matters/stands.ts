/** BAD after a result: which of the two counts is asked of the laboratory, and until it says so both are held. */
import { type Case, currentResult } from '../../case/case.ts';
import type { RejectReason } from '../../case/events.ts';
import { frozenQuestion } from '../frozen-question.ts';
import type { Interpreter } from '../interpret.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { carrier, laboratoryPeople } from '../people.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { settleQuestion } from './close-question.ts';
import { dayAt } from './common.ts';
import { resultQuestions } from './filing.ts';
import { dropAbout, type InLaboratory } from './receipt.ts';

/** Why such a case stands still. */
function heldWhy(item: string): string {
  return `bad-after-result:${item}`;
}

/** True: the case waits for the laboratory to say which counts. */
export function isHeldByBad(of: Case): boolean {
  return of.frozen?.startsWith(heldWhy('')) ?? false;
}

/** Holds result and BAD, and asks the laboratory. `reason`: as far as it was said. */
export function askWhetherItStands(
  turn: Turn,
  interpreter: Interpreter,
  here: InLaboratory,
  reason: RejectReason | null,
): void {
  const { of, specimen } = here;
  dropAbout(turn, 'stands', here);
  turn.carryOut(holding(of, specimen.id), { ...idleFrame, item: specimen.id }, of.id);
  interpreter.run('stands', { caseId: of.id, item: specimen.id, vars: { reason: reason ?? '' } });
}

/** What holds both: the case stands still, and whoever could act on the result is told. Nobody is told twice. */
function holding(of: Case, item: string): readonly Act[] {
  if (isHeldByBad(of)) return [];
  return [
    ...(of.frozen === null ? [{ do: 'record', event: { type: 'frozen', why: heldWhy(item) } } as const] : []),
    { do: 'notify', to: 'coordinators', text: 'stands.for-coordinator', lane: 'notice' },
    { do: 'notify', to: 'owner', text: 'stands.hold', lane: 'notice' },
    { do: 'notify', to: 'doctors', text: 'stands.hold-for-doctor', lane: 'notice' },
  ];
}

/** The case goes on, and no doctor need release it. */
function released(m: Moment): readonly Act[] {
  if (!m.case || !isHeldByBad(m.case)) return [];
  return [{ do: 'record', event: { type: 'released' } }, ...over(m, (about) => about === frozenQuestion.about)];
}

/** The person who speaks is asked by this flow about the specimen at hand. */
function askedHere(m: Moment, flow: 'stands' | 'rejected', vars: Moment['frame']['vars']): Act {
  const of = { caseId: m.case!.id, item: m.specimen!.id, vars: { ...vars } };
  return { do: 'post', personId: m.person.id, what: { kind: 'run', flow, ...of } };
}

/** The others who hear of the specimen's laboratory: some of them may have been asked the same. */
function colleagues({ world, person, specimen }: Moment): readonly Person[] {
  const labId = specimen?.labId ?? null;
  return labId === null ? [] : laboratoryPeople(world, labId).filter((one) => one.id !== person.id);
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
      const told = { kind: 'tell', key: 'stands.over-there', ...of, lane: 'notice' } as const;
      return [
        ...released(m),
        { do: 'record', event: { type: 'result-not-counted', specimen: m.specimen!.id } },
        ...over(m, (about) => resultQuestions.has(about)),
        { do: 'end-threads', caseId: of.caseId, item: of.item, traits: { endsWhen: 'not-counted' }, keepsOwn: true },
        ...colleagues(m).map(({ id }): Act => ({ do: 'post', personId: id, what: told })),
        ...(who ? [{ do: 'post', personId: who.id, what: run } as const] : []),
        { do: 'notify', to: 'doctors', text: 'stands.over-for-doctor', lane: 'notice' },
        { do: 'notify', to: 'coordinators', text: 'stands.settled', lane: 'notice' },
      ];
    },
    'hold-both': (m) => [...holding(m.case!, m.specimen!.id), askedHere(m, 'stands', m.frame.vars)],
    'ask-reject-reason': (m) => [askedHere(m, 'rejected', {})],
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
