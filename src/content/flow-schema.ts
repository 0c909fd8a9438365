/** The shape of a flow file. Shorthands are opened here, so everything behind this file sees one form only. */

import { z } from 'zod';
import { caseStatuses } from '../case/case.ts';
import { askKinds } from '../conversation/answers/answer.ts';
import { lanes } from '../conversation/effect.ts';
import { lateRules } from '../conversation/event.ts';
import { receivers } from '../conversation/people.ts';
import { type FlowTraits, type StateTraits, undoables } from '../conversation/traits.ts';

const word = z
  .string()
  .regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/u, 'small letters, digits and dashes, beginning with a letter');
const textKey = z
  .string()
  .regex(/^[a-z0-9-]+(\.[a-z0-9-]+)?$/u, 'a text key, or file.key: small letters, digits and dashes');
const fieldName = z.string().regex(/^[a-z][A-Za-z0-9]*([.-][A-Za-z0-9]+)*$/u, 'a dotted name as in the findings');
const valueName = z.string().regex(/^[a-z][A-Za-z0-9.-]*$/u, 'the name of a value');
const answerReply = z
  .string('write the reply in quotes')
  .regex(
    /^([0-9]{1,2}|[A-Z]{1,8}|[A-Z][0-9]{1,2}|secret|alarm (same|worse|going|well|cannot))$/u,
    'one digit or two, a word in capitals, a capital with a number, secret, or alarm and its word; in quotes',
  );
const questionReply = z
  .string('write the reply in quotes')
  .regex(/^[0-9]( care)?$/u, "one digit, or one digit and care: '2 care'; in quotes");

/** `x` means `[x]`; absent means none. */
const listOf = <T extends z.ZodType>(item: T) =>
  z.preprocess((value) => (value === undefined ? [] : Array.isArray(value) ? value : [value]), z.array(item));

/** `[a, b]` or `{ a: reply }`; ids that YAML readers elsewhere take for booleans are refused with the rest of `word`. */
const optionsOf = <R extends z.ZodType>(reply: R) =>
  z.preprocess(
    (value) => (Array.isArray(value) ? value.map((id) => [id, null]) : isRecord(value) ? Object.entries(value) : value),
    z.array(z.tuple([word, reply.nullable()])),
  );

const notice = z.strictObject({
  to: z.enum(receivers),
  text: textKey,
  lane: z.enum(lanes).default('notice'),
});

const question = z.strictObject({
  urgency: word,
  about: word,
  options: optionsOf(questionReply),
});

const transition = z.preprocess(
  (value) => (typeof value === 'string' ? { target: value } : value),
  z.strictObject({
    record: listOf(word),
    say: listOf(textKey),
    notify: listOf(notice),
    question: question.nullable().default(null),
    run: word.nullable().default(null),
    flow: word.nullable().default(null),
    target: word.nullable().default(null),
  }),
);

const transitionKey = z
  .string()
  .regex(/^[a-z][a-z0-9-]*(\.[a-z][a-z0-9-]*)*$/u, 'an option, an outcome, next, answered, or name.name');
const transitions = z.record(transitionKey, transition).default({});

const timer = z
  .strictObject({
    after: word.nullable().default(null),
    at: word.nullable().default(null),
    late: z.enum(lateRules).default('fire'),
    daytime: z.boolean().default(false),
  })
  .refine((one) => (one.after === null) !== (one.at === null), {
    message: 'has no one moment',
    params: { todo: 'give either after (a duration) or at (an instant)' },
  });

const ask = z.strictObject({
  field: fieldName,
  kind: z.enum(askKinds),
  options: optionsOf(answerReply).default([]),
  reader: word.nullable().default(null),
  each: z.boolean().default(false),
  numbered: valueName.nullable().default(null),
  unrecorded: z.boolean().default(false),
  typed: z.literal(true).optional(),
});

/** Traits that a flow and a single state may have. */
const bothTraits = {
  loads: z.literal('later-cases').exactOptional(),
  endsWhen: z
    .enum(['seen-again', 'put-right', 'released', 'not-counted', 'referred-anew', 'here-again'])
    .exactOptional(),
  undoes: z.enum(undoables).exactOptional(),
};

/** Traits of a state, as `traits.ts` explains them. */
export const stateTraits = z.strictObject({
  ...bothTraits,
  alarm: z.literal('emergency').exactOptional(),
  resumesOn: word.exactOptional(),
  onlyOnward: z.literal(true).exactOptional(),
  doubled: z.literal('asked').exactOptional(),
  ofWhom: z.literal('said').exactOptional(),
  offers: z.literal('say').exactOptional(),
  redoes: z.enum(undoables).exactOptional(),
}) satisfies z.ZodType<StateTraits>;

/** Traits of a flow. */
export const flowTraits = z.strictObject({
  ...bothTraits,
  alarm: z.enum(['raised', 'offered']).exactOptional(),
  bedside: z.enum(['before', 'needle']).exactOptional(),
  whileFrozen: z.literal('goes-on').exactOptional(),
  unattended: z.literal('look-again').exactOptional(),
  carries: z.enum(caseStatuses).exactOptional(),
  confirms: z.literal('yes').exactOptional(),
  teaches: z.literal('answers').exactOptional(),
}) satisfies z.ZodType<FlowTraits>;

const state = z.strictObject({
  say: listOf(textKey),
  record: listOf(word),
  notify: listOf(notice),
  question: question.nullable().default(null),
  ask: ask.nullable().default(null),
  text: textKey.nullable().default(null),
  decide: word.nullable().default(null),
  timers: z.record(word, timer).default({}),
  transitions,
  final: z.boolean().default(false),
  quiet: z.boolean().default(false),
  noBack: z.boolean().default(false),
  traits: stateTraits.default({}),
});

/** A whole flow file. */
export const flowSchema = z.strictObject({
  flow: word,
  initial: word,
  traits: flowTraits.default({}),
  anywhere: transitions,
  states: z.record(word, state),
});

export type FlowFile = z.infer<typeof flowSchema>;
export type StateFile = FlowFile['states'][string];
export type TransitionFile = StateFile['transitions'][string];
export type QuestionFile = NonNullable<StateFile['question']>;
export type NoticeFile = StateFile['notify'][number];

/** Every key that a flow file knows, for offering the right one when it is misspelt. */
export const flowKeys: readonly string[] = [
  ...new Set(
    [flowSchema, flowTraits, stateTraits, state, ask, timer, question, notice]
      .flatMap((one) => Object.keys(one.shape))
      .concat('target', 'run'),
  ),
];

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}
