/** Every choice of every question that a doctor can be asked: those of the flows, and those that are made in code. */
import { readFileSync } from 'node:fs';
import { textKeys } from '../../src/generated/text-keys.ts';

const words = JSON.parse(readFileSync(new URL('../../locales/en/doctor.json', import.meta.url), 'utf8')) as {
  readonly options: Readonly<Record<string, Readonly<Record<string, string>>>>;
};

/** `doctor.thy4 refer`: each question has a name for lists, each choice a word by which it is told. */
export const doctorChoices: readonly string[] = textKeys.doctor
  .flatMap((key) => /^about-(.+)$/.exec(key)?.[1] ?? [])
  .flatMap((about) => Object.keys(words.options[about] ?? {}).map((id) => `doctor.${about} ${id}`));
