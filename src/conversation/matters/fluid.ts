/** Fluid that came by the needle: read, kept as the laboratory wants it, and a doctor's matter where it may be more. */
import type { Specimen } from '../../case/case.ts';
import type { KeptFluid } from '../../case/events.ts';
import { fluidsSent } from '../../case/parcel.ts';
import { FLUID_ML, type FluidConcern, type FluidLook, fluidConcern, fluidLooks } from '../../clinical/fluid.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type Matter, type Moment, type Reader, record } from '../moment.ts';
import { slidesFilled } from './attempts.ts';
import { isDrain } from './drainage.ts';
import { optionsOf } from './findings-readers.ts';
import { laboratoryHere } from './fixing.ts';
import { isLateral } from './places.ts';

/** Number of the first attempt with fluid of which nothing more is known; null = none. */
export function fluidUnasked(specimen: Specimen): number | null {
  const known = specimen.fluids.map((one) => one.attempt);
  const index = specimen.attempts.findIndex((one, at) => one === 'fluid' && !known.includes(at + 1));
  return index < 0 ? null : index + 1;
}

/** `6 ml 3`, `6ml brown`, `6 3`: how much, then the look by its digit or word. */
const readFluid: Reader = (text, moment) => {
  const { texts } = moment.world;
  const units = texts.words(moment.person.locale, 'volume-unit', 'ml').join('|');
  const form = new RegExp(`^\\D*?(?<ml>\\d{1,3}(?:[.,]\\d)?)\\s*(?:${units})?[\\s,;:]+(?<look>\\S.*)$`, 'iu');
  const found = form.exec(tidy(text));
  if (!found?.groups) return unreadable('not-a-fluid');
  const { ml = '', look = '' } = found.groups;
  const got = readChoice(look, optionsOf(moment));
  if (!got.ok) return unreadable('not-a-fluid');
  const many = Number(ml.replace(',', '.'));
  if (many < FLUID_ML.least || many > FLUID_ML.most) return unreadable('out-of-range');
  return { ok: true, value: { value: [many, got.value] } };
};

function recordFluid(moment: Moment): readonly Act[] {
  const specimen = moment.specimen!;
  const attempt = fluidUnasked(specimen);
  const said: readonly unknown[] = Array.isArray(moment.answer) ? moment.answer : [];
  const look = fluidLooks.find((one) => one === said[1]);
  if (attempt === null || look === undefined) return [];
  const way = isDrain(moment.case!) ? 'drained' : laboratoryHere(moment).fluid;
  const kept = look === 'pus' ? 'culture' : way;
  return [record({ type: 'fluid', specimen: specimen.id, attempt, ml: Number(said[0]), look, kept })];
}

function concernOf(moment: Moment): FluidConcern | null {
  const look: FluidLook | undefined = moment.specimen?.fluids.at(-1)?.look;
  return look === undefined ? null : fluidConcern(look, isLateral(moment.specimen));
}

function word(moment: Moment, key: KeyIn<'sampling'>): string {
  return moment.world.texts.render(moment.person.locale, `sampling.${key}`, () => '');
}

/** `6+4 ml brown`, look by look in the order they came; '' without fluid. */
export function fluidWords(moment: Moment, fluids: readonly KeptFluid[]): string {
  const { texts } = moment.world;
  return [...new Set(fluids.map(({ look }) => look))]
    .map((look) => {
      const each = fluids.filter((one) => one.look === look).map(({ ml }) => ml);
      const ml = texts.label(moment.person.locale, 'volume-unit', 'ml');
      return `${each.join('+')} ${ml} ${texts.label(moment.person.locale, 'fluid', look)}`;
    })
    .join(', ');
}

/** ` and FLUID (6 ml brown) in a tube`: what goes along beside the slides; '' where nothing does. */
export function fluidSentWords(moment: Moment): string {
  const some = moment.specimen ? fluidWords(moment, fluidsSent(moment.specimen)) : '';
  return some === '' ? '' : moment.world.texts.render(moment.person.locale, 'posting.with-fluid', () => some);
}

/** `1 and 2`: the pair of slides that the fluid before has taken. */
function smearPair(moment: Moment): string {
  const last = moment.specimen ? slidesFilled(moment.specimen) : 0;
  const values: Readonly<Record<string, string>> = { count: String(last - 1), number: String(last) };
  return moment.world.texts.render(moment.person.locale, 'sampling.pair', (name) => values[name] ?? '');
}

function keptText(moment: Moment): string {
  const key: KeyIn<'sampling'> = `kept-${moment.specimen?.fluids.at(-1)?.kept ?? 'ask'}`;
  const pair = smearPair(moment);
  return moment.world.texts.render(moment.person.locale, `sampling.${key}`, () => pair);
}

export const fluid: Matter = {
  decisions: {
    'after-fluid': {
      outcomes: ['keep', 'red', 'clear', 'brown', 'pus'],
      decide: (m) => concernOf(m) ?? 'keep',
    },
  },
  recorders: { fluid: recordFluid },
  readers: { fluid: readFluid },
  values: {
    fluidKept: {
      of: keptText,
      sample:
        'This laboratory takes no fluid. Let it stand upright. Smear what sinks down on slides 1 and 2, fix them wet at once. Pour the rest away.',
    },
    fluidLast: {
      of: (m) => (m.specimen ? fluidWords(m, m.specimen.fluids.slice(-1)) : ''),
      sample: '6 ml clear as water',
    },
    fluidSaid: { of: (m) => (m.specimen ? fluidWords(m, m.specimen.fluids) : ''), sample: '6 ml clear as water' },
    fluidTaken: {
      of: (m) => {
        const taken = m.specimen ? fluidWords(m, m.specimen.fluids) : '';
        return taken === '' ? '' : m.world.texts.render(m.person.locale, 'sampling.fluid-taken', () => taken);
      },
      sample: ' Fluid taken: 6 ml brown.',
    },
    fluidSent: { of: fluidSentWords, sample: ' and FLUID (6 ml brown) in a tube' },
    fluidWhy: {
      of: (m) => {
        const concern = concernOf(m);
        return concern ? word(m, `concern-${concern}`) : '';
      },
      sample: 'clear as water: parathyroid?',
    },
  },
};
