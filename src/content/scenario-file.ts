/** Reads the files of the scenarios: one for what they share, one for each. Their shape; `check-scenarios.ts` reads their sense. */
import { z } from 'zod';
import { findingsChoices } from '../clinical/findings.ts';
import { parts } from '../training/scenario.ts';
import { durationForm } from './duration.ts';

const text = z.string().min(1, 'should not be empty');
const duration = z.string().regex(durationForm, 'write a whole number and s, m, h or d, like 10m');
/** A list = options by their ids; else what is sent. Digits may stand without quotes. */
const reply = z.union([z.array(text).min(1), text, z.number().transform(String)]);
const byStep = <T extends z.ZodType>(value: T) => z.record(text, value);

/** One step in full; the short way is `new.breathing: [none]`. */
const fullStep = z.strictObject({
  at: text,
  by: z.enum(parts).optional(),
  send: reply,
  also: z.array(reply).optional(),
  find: text.optional(),
  within: duration.optional(),
  after: duration.optional(),
});
const step = z.union([fullStep, z.strictObject({ course: text }), byStep(reply)]);

/** By `flow.step`; its second time is `flow.step 2`. */
const said = byStep(text);

export const scenarioSchema = z.strictObject({
  scenario: text,
  order: z.number().int().positive(),
  you: z.enum(parts),
  guided: z.boolean().optional(),
  patient: z.strictObject({
    initials: text,
    born: z.number().int(),
    sex: z.enum(['F', 'M']),
  }),
  looks: z
    .strictObject({
      site: z.enum(findingsChoices.site),
      mm: z.array(z.number().positive()).length(3),
      composition: z.enum(findingsChoices.composition),
      solidPartMm: z.number().positive().optional(),
      eccentric: z.boolean().optional(),
      echogenicity: z.enum(findingsChoices.echogenicity),
      shape: z.enum(findingsChoices.shape),
      margin: z.enum(findingsChoices.margin),
      capsule: z.enum(findingsChoices.capsule).optional(),
      foci: z.array(z.enum(findingsChoices.foci)),
    })
    .nullable(),
  /** Other answers than those of the courses, by `flow.step`. */
  but: byStep(reply).optional(),
  way: z.array(step).min(1),
});
export type ScenarioSource = z.infer<typeof scenarioSchema>;
export type StepSource = z.infer<typeof step>;

export const commonSchema = z.strictObject({
  courses: byStep(z.array(step).min(1)),
  by: byStep(z.enum(parts)),
  find: said,
  also: byStep(z.array(reply).min(1)),
  within: byStep(duration),
  after: byStep(duration),
  again: said,
  elsewhere: byStep(reply),
});
export type CommonSource = z.infer<typeof commonSchema>;
