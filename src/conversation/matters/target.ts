/** What the needle goes into: proposed, completed by what is asked, and named in words. */

import { answeredOf } from '../../case/answers.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import { proposedNodule } from '../../case/stored-events.ts';
import { type Aim, aimsOf, needsPlace, sideSaid } from '../../case/target.ts';
import { weighCase } from '../../clinical/indication.ts';
import type { Proposed } from '../../clinical/proposed.ts';
import { bySuspicion } from '../../clinical/several-nodules.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { read, unreadable } from '../answers/answer.ts';
import { readDiameters } from '../answers/diameters.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { askAnew, isStale } from './another-day.ts';
import { aimHere, listAnswer } from './common.ts';
import { findingsNow } from './findings-now.ts';
import { vocabularyOf } from './findings-readers.ts';

type Named = Pick<Aim, 'kind' | 'side' | 'mm' | 'place'>;

function words(moment: Moment, key: KeyIn<'target'>, values: Readonly<Record<string, string>>): string {
  return moment.world.texts.render(moment.person.locale, `target.${key}`, (name) => values[name] ?? '');
}

function capital(moment: Moment, field: string, id: string | null): string {
  const { locale } = moment.person;
  return id === null ? '' : moment.world.texts.label(locale, field, id).toLocaleUpperCase(locale);
}

/** `RIGHT UPPER lump`, `LEFT neck node`; without a side `lump`. */
function placeText(moment: Moment, { kind, side, place }: Named): string {
  const key = kind === 'node' ? 'node' : place === null ? 'nodule' : 'nodule-placed';
  if (side === null) return words(moment, `${kind}-anywhere`, {});
  return words(moment, key, { side: capital(moment, 'site', side), place: capital(moment, 'place', place) });
}

/** `RIGHT lump, 22 mm`: side, place where the side has two, and the largest diameter. What is not known is left out. */
export function targetText(moment: Moment, aim: Named): string {
  const where = placeText(moment, aim);
  const [most] = aim.mm;
  return most === undefined ? where : words(moment, 'sized', { words: where, number: String(most) });
}

/** All that is proposed, `RIGHT lump, 35 mm and LEFT lump, 18 mm`; '' where nothing is. */
export function targetsText(moment: Moment): string {
  return targetsWords(moment, moment.case ? aimsOf(moment.case) : []);
}

/** These, one after the other; '' where there are none. */
export function targetsWords(moment: Moment, aims: readonly Named[]): string {
  const texts = aims.map((one) => targetText(moment, one));
  return texts.reduce((first, next) => (first === '' ? next : words(moment, 'both', { first, words: next })), '');
}

/** Lumps of this side that were measured: a needle into one of two is told which. */
function othersBeside(moment: Moment, aim: Aim): boolean {
  const of = moment.case!;
  return nodulesOf(of).some((id) => id !== aim.nodule && sideSaid(of, id) === aim.side);
}

function lacksPlace(moment: Moment, aims: readonly Aim[], aim: Aim): boolean {
  if (needsPlace(aims, aim)) return true;
  return aim.kind === 'nodule' && aim.nodule !== null && aim.place === null && othersBeside(moment, aim);
}

/**
 * What a needle would go into where no rule proposes anything: of the lumps that somebody described the most suspicious one,
 * the neck node, what was felt. A lump that nobody looked at can still be anything, so that it would come first.
 */
export function impliedNow(moment: Moment): readonly Proposed[] {
  const { nodules } = weighCase(findingsNow(moment), moment.world.programme.policy);
  const described = nodules.filter(({ nodule }) => nodule.composition !== null);
  const first = [...(described.length > 0 ? described : nodules)].sort(bySuspicion)[0]?.nodule.id;
  if (first !== undefined) return [proposedNodule(moment.case!, first)];
  const hasNode = listAnswer(moment, 'dangerSigns').includes('neck-nodes');
  return [{ kind: hasNode ? 'node' : 'nodule', nodule: null, site: null, mm: null }];
}

/** What is proposed, else what a needle would go into; before the decision too. */
export function proposedNow(moment: Moment): readonly Proposed[] {
  const before = moment.case!.decided?.proposed ?? [];
  return before.length > 0 ? before : impliedNow(moment);
}

/** A needle is allowed and nothing is proposed: now it is. */
export function propose(moment: Moment): readonly Act[] {
  const before = moment.case!.decided;
  if (!before || before.proposed.length > 0) return [];
  const { at: _at, ...rest } = before;
  return [record({ type: 'decided', ...rest, proposed: proposedNow(moment) })];
}

/** The next thing to ask about what is proposed, with the item that it is asked of. */
function nextTarget(moment: Moment): { readonly outcome: string; readonly item: string | null } {
  if (isStale(moment)) return { outcome: 'another-day', item: null };
  const aims = aimsOf(moment.case!);
  const sideless = aims.find((one) => one.side === null || (one.kind === 'node' && one.side === 'isthmus'));
  if (sideless) return { outcome: sideless.kind === 'node' ? 'which-neck-side' : 'which-side', item: sideless.item };
  const sizeless = aims.find((one) => one.mm.length === 0);
  if (sizeless) return { outcome: 'felt-size', item: sizeless.item };
  const placeless = aims.find((one) => lacksPlace(moment, aims, one));
  return placeless ? { outcome: 'which-place', item: placeless.item } : { outcome: 'known', item: null };
}

/** Two lumps of one side are proposed: where one is the upper, the other is the lower. */
function otherPlace(moment: Moment): readonly Act[] {
  const aims = aimsOf(moment.case!);
  const here = aims.find((one) => one.item === moment.frame.item);
  const beside = aims.filter((one) => one !== here && one.side === here?.side && one.place === null);
  if (here?.place == null || beside.length !== 1) return [];
  const value = here.place === 'upper' ? 'lower' : 'upper';
  return [record(answeredOf('place', beside[0]!.item, value))];
}

export const target: Matter = {
  decisions: {
    'same-day': { outcomes: ['yes', 'no'], decide: (m) => (isStale(m) ? 'no' : 'yes') },
    'next-target': {
      outcomes: ['another-day', 'which-side', 'which-neck-side', 'felt-size', 'which-place', 'known'],
      decide: (m) => {
        const { outcome, item } = nextTarget(m);
        return { outcome, acts: [{ do: 'item', item }] };
      },
    },
  },
  recorders: { propose, 'ask-anew': askAnew, 'other-place': otherPlace },
  readers: {
    'felt-size': (text, m) => {
      const { sides, units } = vocabularyOf(m);
      const got = readDiameters(text, { sides, units, maxNodules: 1, sideRequired: false });
      if (!got.ok) return got;
      const { side, mm, mmRange } = got.value[0]!;
      if (side !== null && side !== aimHere(m)?.side) return unreadable('other-side');
      // Of a range the larger end: a jar bears one size.
      return read({ value: [...(mm ?? [mmRange![1]])].sort((one, other) => other - one) });
    },
  },
  values: {
    target: { of: (m) => targetTextHere(m), sample: 'RIGHT lump, 22 mm' },
    targets: { of: targetsText, sample: 'RIGHT lump, 22 mm' },
    mmMost: { of: (m) => String(aimHere(m)?.mm[0] ?? ''), sample: '22' },
  },
};

function targetTextHere(moment: Moment): string {
  const aim = aimHere(moment);
  return aim === null ? '' : targetText(moment, aim);
}
