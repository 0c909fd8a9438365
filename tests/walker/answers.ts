/**
 * What a worker answers who knows the patient's truth: by the question's field, its options and its kind, never by its
 * words, so that other wordings, numbers and splits need no change here.
 */

import type { Case } from '../../src/case/case.ts';
import { answerOf, specimenOf } from '../../src/case/case.ts';
import { slidesInUse } from '../../src/conversation/matters/attempts.ts';
import type { Chance } from '../simulation/chance.ts';
import { isAnotherDay } from './another-day.ts';
import { dayAhead, freeAnswer } from './free-answers.ts';
import type { Ask } from './transcript.ts';
import { isSo, type Truth } from './truth.ts';
import { lumpOfAsk } from './which-lump.ts';

export interface Situation {
  readonly ask: Ask;
  readonly truth: Truth;
  readonly of: Case | null;
  readonly now: number;
  readonly chance: Chance;
  /** Findings are asked: some are not known. */
  readonly examining: boolean;
  /** How often this question was put to this phone about this case before. */
  readonly before: number;
  /** The case that the line asks about is of this patient. */
  readonly isSame: boolean;
  /** Weights of options that are others in this batch. */
  readonly likes: Readonly<Record<string, number>>;
}

export interface Reply {
  readonly text: string;
  readonly ids: readonly string[];
}

type Option = Ask['options'][number];

/** What is likelier than other choices where the truth says nothing, by option id; 4 for all others. */
const weights: Readonly<Record<string, number>> = {
  ...{ now: 26, 'other-day': 4, 'refer-only': 3, told: 10, watch: 8, 'ask-doctor': 4 },
  ...{ material: 30, blood: 7, 'too-little': 5, unwell: 2, 'not-done': 1 },
  ...{ 'all-same': 40, 'not-same': 4, written: 40, 'not-yet': 2, closed: 30, 'not-tight': 3 },
  ...{ 'well-and-told': 40, 'all-well': 40, changed: 2, 'in-hospital': 3 },
  ...{ 'on-the-way': 10, 'cannot-go': 3, seen: 12, 'not-seen': 2, calling: 12, 'not-found': 2, agrees: 14, refuses: 2 },
  ...{ better: 10, same: 3, worse: 2, 'handed-over': 3, reached: 8, 'not-reached': 3, booked: 8, declined: 2 },
  ...{ still: 20, beats: 2, pot: 10, 'no-pot': 3 },
  ...{ done: 8, 'not-possible': 3, all: 40, yes: 12, lower: 5, 'still-high': 3 },
};

/** Looks at the truth first, then at what is permitted. */
export function answerTo(at: Situation): Reply {
  const { ask } = at;
  // What was not taken so often is tried in another way.
  const byOption = !isFree(ask) && !ask.field.startsWith('slides');
  if (at.before > 6 && byOption) {
    const { reply, id } = at.chance.pick(ask.options);
    return { text: reply, ids: [id] };
  }
  if (ask.options.length === 0 || isFree(ask)) {
    const free = freeAnswer(at);
    if (free !== null) return typeof free === 'string' ? { text: free, ids: [] } : free;
  }
  if (ask.field === 'slides' || ask.field === 'slides-dried') return perSlide(at);
  const withDay = at.chance.happens(0.12) ? dayBeside(at) : null;
  if (withDay !== null) return withDay;
  const ids = ask.kind === 'choices' ? several(at) : [one(at)];
  const chosen = ids.flatMap((id) => ask.options.find((option) => option.id === id) ?? []);
  const said = chosen.length > 0 ? chosen : [lastResort(ask)];
  return { text: said.map(({ reply }) => reply).join(' '), ids: said.map(({ id }) => id) };
}

/** The patient agrees, and the day is known already: both in one text. */
function dayBeside({ ask, now, chance }: Situation): Reply | null {
  const first = ask.options[0];
  if (!first || !['told', 'repeat'].includes(ask.field)) return null;
  return { text: `${first.reply} ${dayAhead(now, 1 + chance.below(6))}`, ids: [first.id] };
}

const isFree = (ask: Ask): boolean => !['choice', 'choices'].includes(ask.kind);

function lastResort(ask: Ask): Option {
  return ask.options.find(({ id }) => id === 'unknown') ?? ask.options[0]!;
}

/** Ids that apply of a question which takes several. */
function several(at: Situation): readonly string[] {
  const { ask, truth, chance, before } = at;
  const offered = ask.options.map(({ id }) => id);
  switch (ask.field) {
    case 'examined': {
      if (before === 0 && chance.happens(0.04) && offered.includes('not-examined')) return ['not-examined'];
      const sides = [...new Set(truth.lumps.filter((lump) => lump.felt).map((lump) => lump.side))];
      return sides.length > 0 ? sides : ['not-felt'];
    }
    case 'supplies':
      return suppliesOf(at, offered);
    case 'checks':
      return checksOf(at, offered);
    case 'practice':
      return chance.happens(0.5) ? ['second', 'third'] : [chance.pick(offered)];
    case 'lump':
      return [chance.happens(0.4) && offered.includes('none') ? 'none' : chance.pick(offered)];
    default:
      return listOf(at, offered);
  }
}

/** What is so of what is offered; sometimes a part of it is not known, and sometimes nothing is. */
function listOf(at: Situation, offered: readonly string[]): readonly string[] {
  const { ask, truth, chance } = at;
  const lump = ask.item === null ? null : lumpOfAsk(at);
  const looks = ask.field === 'features' || ask.field === 'foci';
  // What stopped a needle on one day is mostly gone on another.
  const isOver = ask.field === 'dangers' && isAnotherDay(at.of) && chance.happens(0.7);
  const real = offered.filter((id) => id !== 'none' && id !== 'unknown');
  const so = isOver ? [] : real.filter((id) => (looks ? lump?.looks.has(id) === true : isSo(truth, id)));
  const canBeUnknown = offered.includes('unknown');
  const key = `${ask.item ?? ''}.${real[0]}`;
  if (canBeUnknown && truth.unknown(key))
    return chance.happens(0.4) && so.length > 0 ? [...so, 'unknown'] : ['unknown'];
  if (so.length > 0) return so;
  // A thinner was said, and it is none of these.
  return offered.includes('none') ? ['none'] : ['unknown'];
}

function suppliesOf({ truth, before, chance }: Situation, offered: readonly string[]): readonly string[] {
  if (before === 0 && chance.happens(0.04) && offered.includes('none')) return ['none'];
  const has = offered.filter((id) => truth.supplies.has(id));
  const short = before === 0 && chance.happens(0.06) ? has.slice(1) : has;
  if (before > 0) {
    const full = ['syringe', 'fine-needles', 'slides-many', 'alcohol-lidded'].filter((id) => offered.includes(id));
    return [...new Set([...has, ...full])];
  }
  return short.length > 0 ? short : ['none'];
}

/** Either all that is done is sent, or, where ALL can be sent, what is not. */
function checksOf({ truth, chance, ask, before }: Situation, offered: readonly string[]): readonly string[] {
  const hindering = offered.filter((id) => truth.hindrances.has(id) && before < 2);
  const all = ask.options.find(({ id, reply }) => reply === 'ALL' || id === 'all');
  const techniques = offered.filter((id) => ['capillary', 'second-operator', 'improvised-holder'].includes(id));
  const chosen = chance.happens(0.3) && techniques.length > 0 ? [chance.pick(techniques)] : [];
  if (all)
    return before === 0 && chance.happens(0.08)
      ? [chance.pick(offered.filter((id) => id !== all.id))]
      : [all.id, ...chosen];
  const done = ['consent', 'identifiers', 'position', 'still', 'clean', 'sharps'].filter((id) => offered.includes(id));
  const kept = done.filter(
    (id) =>
      !(id === 'still' && hindering.includes('not-still')) && !(id === 'clean' && hindering.includes('sore-skin')),
  );
  if (hindering.includes('not-still')) return ['not-still'];
  const said = before === 0 && chance.happens(0.08) ? kept.slice(0, -1) : kept;
  return [...said, ...hindering, ...chosen];
}

/** One option: the truth where it says something, else anything that is permitted. */
function one(at: Situation): string {
  const { ask, truth, chance, before } = at;
  const offered = ask.options.map(({ id }) => id);
  const has = (id: string): boolean => offered.includes(id);
  const yesNo = (so: boolean): string => (so ? 'yes' : 'no');
  const lump = lumpOfAsk(at);
  const key = `${ask.item ?? ''}.${ask.field}`;
  if (has('unknown') && at.examining && truth.unknown(key)) return 'unknown';
  switch (ask.field) {
    case 'ultrasound.done':
      if (before > 0 && truth.choices['ultrasound.done'] === 'not-done-yet' && chance.happens(0.5)) return 'linear';
      return truth.choices['ultrasound.done'] ?? 'linear';
    case 'tsh':
    case 'scan':
      return truth.choices[ask.field]!;
    case 'overactiveSigns':
      return yesNo(truth.facts.has('overactiveSigns'));
    case 'patient.pregnant':
      return yesNo(truth.pregnantWeeks !== null);
    case 'composition': {
      // Looked at once more, it looks otherwise now and then.
      const isAgain = at.of !== null && ask.item !== null && answerOf(at.of, 'composition', ask.item) !== undefined;
      return isAgain && chance.happens(0.4) ? chance.pick(offered) : (lump?.composition ?? 'unknown');
    }
    case 'spongiformWhole':
    case 'eccentric':
    case 'rimExtrusion':
      return yesNo(lump?.truths[ask.field] === true);
    case 'palpable':
    case 'felt':
      return has('yes') ? yesNo(lump?.felt === true) : (lump?.side ?? offered[0]!);
    case 'site':
    case 'side':
    case 'target-side':
      if (ask.item?.startsWith('node') && truth.node && has(truth.node.side)) return truth.node.side;
      return lump?.side && has(lump.side) ? lump.side : chance.pick(offered);
    case 'place':
      return lump && has(lump.place) ? lump.place : chance.pick(offered);
    case 'level':
      return truth.node && has(truth.node.level) ? truth.node.level : chance.pick(offered);
    case 'examined-now': {
      // Done now is said by those who can: a second time the machine is there, or nothing is left to do.
      const can = truth.choices['ultrasound.done'] !== 'no-ultrasound' && before === 0;
      return chance.pick(offered.filter((id) => id !== 'done' || can));
    }
    case 'findings-check':
      return before < 2 && chance.happens(0.09) ? chance.pick(offered) : has('yes') ? 'yes' : chance.pick(offered);
    case 'same-patient':
      if (chance.happens(0.15)) return 'unknown';
      return at.isSame ? 'same' : 'another';
    case 'attempt':
      return attemptOf(at, offered);
  }
  const entries = offered.map((id) => [`=${id}`, at.likes[id] ?? weights[id] ?? 4] as const);
  return chance.weighted(Object.fromEntries(entries)).slice(1);
}

function attemptOf(at: Situation, offered: readonly string[]): string {
  const { truth, chance, of } = at;
  const made = of ? (specimenOf(of, at.ask.item)?.attempts.length ?? 0) : 0;
  // A cyst is emptied, and then nothing is left to do.
  if (of && answerOf(of, 'drain') !== undefined && chance.happens(0.8))
    return offered.find((id) => (made === 0 ? /fluid/ : /not-done/).test(id)) ?? offered[0]!;
  const fluid = offered.find((id) => /fluid/.test(id));
  const wet = ['mixed', 'cystic'].includes(lumpOfAsk(at)?.composition ?? '');
  if (fluid && truth.fluid !== null && chance.happens(wet ? 0.7 : 0.15)) return fluid;
  const entries = offered.map((id) => [`=${id}`, outcomeWeight(at, /[a-z-]+$/.exec(id)?.[0] ?? id)] as const);
  return chance.weighted(Object.fromEntries(entries)).slice(1);
}

const outcomeWeight = ({ truth: { isDry }, likes }: Situation, id: string): number =>
  isDry && id === 'material' ? 2 : (likes[id] ?? weights[id] ?? 4);

/** One sign a slide, mostly good ones; now and then all are alike, and not good. */
function perSlide({ ask, of, chance, truth }: Situation): Reply {
  const specimen = of ? specimenOf(of, ask.item) : null;
  const count = specimen ? slidesInUse(specimen) : 2;
  const first = ask.options[0]!;
  const nothing = truth.isDry && chance.happens(0.65) ? ask.options.find(({ id }) => id === 'none') : undefined;
  const all = nothing ?? (chance.happens(0.08) ? chance.pick(ask.options) : null);
  const signs = Array.from({ length: count }, () => {
    if (all) return all;
    const entries = ask.options.map(({ reply, id }) => [`=${reply}`, id === first.id ? 30 : 2] as const);
    const reply = chance.weighted(Object.fromEntries(entries)).slice(1);
    return ask.options.find((option) => option.reply === reply)!;
  });
  return { text: signs.map(({ reply }) => reply).join(''), ids: signs.map(({ id }) => id) };
}
