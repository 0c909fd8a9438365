/** Who is told about an alarm, and what the line may say of it: nobody is named who was not texted in that very step. */
import type { TextKey } from '../../generated/text-keys.ts';
import { quotedWords } from '../../text/one-line.ts';
import { firstAskedAt } from '../first-asked.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { alarmHearers, personById, reachable } from '../people.ts';
import type { Question } from '../state.ts';
import { traitsOf } from '../traits.ts';

/** The question to the doctors that an SOS opens. */
export const sosQuestion = {
  urgency: 'now',
  about: 'sos',
  options: [
    { id: 'call-me', reply: '1', care: true },
    { id: 'go-to-hospital', reply: '2', care: true },
  ],
} as const;

/** The same for a decision that is an emergency. */
export const emergencyQuestion = { ...sosQuestion, about: 'emergency' } as const;

/** Longest name on a screen of first aid, characters. */
const longestName = 24;

/** True: the alarm is the decision itself, before any needle. */
function isEmergency(m: Moment): boolean {
  return traitsOf(m.world.flows, m.frame).alarm === 'emergency';
}

/** The questions of this alarm: of its case, or the one that its frame opened. */
export function alarmsOf(m: Moment): readonly Question[] {
  const about = isEmergency(m) ? 'emergency' : 'sos';
  const caseId = m.case?.id ?? null;
  // Without a case one phone has one alarm at a time; one that a doctor took back has a new id.
  const mine = (one: Question): boolean =>
    one.id === m.frame.vars.question ||
    (one.caseId === caseId && (caseId !== null || (one.askedBy === m.person.id && one.answeredAt === null)));
  return m.questions.filter((one) => one.about === about && mine(one));
}

/** Tells whoever knows of the alarm and can be reached, else whoever must hear of one; says to the frame who that was. `first`: they hear of it for the first time. */
export function tellAsked(m: Moment, key: TextKey, vars: Moment['frame']['vars'] = {}, first = false): readonly Act[] {
  const asked = new Set(alarmsOf(m).flatMap((one) => one.askedOf));
  const known = [...asked].flatMap((id) => personById(m.world, id) ?? []).filter(reachable);
  const others = known.filter((one) => one.id !== m.person.id);
  const ids = (others.length > 0 ? others : alarmHearers(m.world, m.person, m.now).people).map((one) => one.id);
  // What ends the alarm is read by its sender alone.
  const { going: _going, well: _well, reached: _reached, ...own } = m.frame.vars;
  const said = { ...own, who: m.person.name, ...vars };
  return [
    ...ids.map((personId): Act => {
      const what = {
        kind: 'tell',
        key,
        caseId: m.case?.id ?? null,
        item: m.frame.item,
        vars: said,
        lane: 'sos',
        ...(first ? { first: true as const } : {}),
      } as const;
      return { do: 'post', personId, what };
    }),
    { do: 'vars', vars: { reached: ids } },
  ];
}

/** The next doctor at once; a new question where every one was answered. A promise of before does not hold it back. */
export function raiseFurther(m: Moment): readonly Act[] {
  const open = alarmsOf(m).filter((one) => one.answeredAt === null);
  if (open.length === 0) return [{ do: 'question', question: isEmergency(m) ? emergencyQuestion : sosQuestion }];
  return open.flatMap((one): readonly Act[] => [
    { do: 'put-question', question: { ...one, promiseUntil: null } },
    { do: 'post', personId: null, what: { kind: 'climb', questionId: one.id, rung: one.rung + 1 } },
  ]);
}

/** Whoever was texted when the alarm's question was opened in this step; no doctor: all coordinators, as the responders. */
export function tellOpened(m: Moment): readonly Act[] {
  const question = m.questions.find((one) => one.id === m.frame.vars.question);
  // Practice wakes nobody at night: who is asked in the morning was not texted.
  const isTexted = question !== undefined && firstAskedAt(m.world.programme, question) <= m.now;
  const asked = isTexted ? question.askedOf : [];
  if (asked.length > 0 || m.case?.practice) return [{ do: 'vars', vars: { reached: asked } }];
  return tellAsked(m, 'sos.for-coordinator', {}, true);
}

/** Ids of those whom the line texted last about the alarm of this frame. */
export function reachedIds({ frame }: Pick<Moment, 'frame'>): readonly string[] {
  const { reached } = frame.vars;
  return Array.isArray(reached) ? reached.filter((one): one is string => typeof one === 'string') : [];
}

/** `Dr Tano`, or `Dr Tano and 2 others`. */
function reachedNames(m: Moment): string {
  const names = reachedIds(m).flatMap((id) => personById(m.world, id)?.name ?? []);
  const first = quotedWords(names[0] ?? '', longestName);
  if (names.length < 2) return first;
  const vars: Readonly<Record<string, string>> = { who: first, count: String(names.length - 1) };
  return m.world.texts.render(m.person.locale, 'sos.and-others', (name) => vars[name] ?? '');
}

export const alarmTold: Matter = {
  decisions: {
    'alarm-reached': {
      outcomes: ['somebody', 'nobody'],
      decide: (m) => (reachedIds(m).length > 0 ? 'somebody' : 'nobody'),
    },
  },
  recorders: {
    'alarm-told': tellOpened,
    'emergency-cannot': (m) => [...tellAsked(m, 'sos.cannot-for-doctor'), ...raiseFurther(m)],
    'emergency-worse': (m) => [...tellAsked(m, 'sos.worse-for-doctor'), ...raiseFurther(m)],
  },
  values: {
    reached: { of: reachedNames, sample: 'Dr Tano', fromVar: true },
  },
};
