import { shipped } from '../../support/shipped.ts';
import type { Said, Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { saidOf } from './invariant.ts';

/** Most segments of a text that may be long: more than a phone puts together. Our convention. */
const mostSegments = 5;
const english = shipped.sources.locales.find(({ tag }) => tag === 'en')!;
const holes: readonly (readonly [string, RegExp])[] = [
  ['undefined', /\bundefined\b|\bnull\b|\bNaN\b|\[object/],
  ['a placeholder', /[{}]/],
  ['a doubled blank', /\S {2,}\S/],
  ['an empty place between commas', /,\s*,|\(\s*\)|: ,|: \.|;\s*;/],
  ['a blank before a comma or full stop', / [,.;](?:\s|$)/],
  ['a size without a number', /(?:^|[^\d\s]|(?:^|[^\d])\s)mm\b(?! of| each| thick)/i],
];

/** No text over its limit, with a hole, or with a name, side or size that is empty. */
export const wholeTexts: Invariant = {
  name: 'no text is over its limit or has an empty name, side or size',
  broken: (walked) =>
    saidOf(walked).flatMap((said) => [
      ...holes
        .filter(([, hole]) => hole.test(withoutAsked(said.text, walked)))
        .map(([what]) => `${what} in "${said.text}"`),
      ...(said.segments > mostOf(said) ? [`${said.segments} segments: "${said.text}"`] : []),
    ]),
};

/** A question that asks for mm lacks no number. */
const withoutAsked = (text: string, { of, truth }: Walked): string =>
  ([of.tag, truth.initials].includes('MM') ? text.replaceAll(/\bMM\b/g, 'AK') : text).replace(
    /\b(in|send|that|is it) mm\b/gi,
    '$1 it',
  );

function mostOf({ flow, step }: Said): number {
  const state = shipped.flows.newest.get(flow)?.states.get(step);
  const key = step.includes('.') ? step : (state?.text ?? `doctor.${step}`);
  const [file = '', own = ''] = key.split('.');
  const long = english.files.find(({ name }) => name === file)?.long ?? {};
  return own in long ? mostSegments : 1;
}
