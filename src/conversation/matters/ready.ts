/** Supplies, the checks before the needle, the code on the glass. */

import { answerOf } from '../../case/case.ts';
import { checkCode, drawPayload, ISSUED_BEFORE_LONG_CODES, makeCode } from '../../case/code.ts';
import { type Aim, aimsOf, sameTarget, type Target, targetOf } from '../../case/target.ts';
import {
  judgeSupplies,
  SUPPLIES,
  type Supply,
  type SupplyJudgement,
  type Technique,
  techniques,
} from '../../clinical/supplies.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { type Parsed, unreadable } from '../answers/answer.ts';
import { readChoices } from '../answers/choices.ts';
import { readCode } from '../answers/code.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { laboratoryOf, limitOf } from '../programme.ts';
import { restoredLately } from '../restored.ts';
import { listAnswer } from './common.ts';
import { optionsOf } from './findings-readers.ts';
import { firstHindrance } from './hindrances.ts';

const neededChecks = ['consent', 'identifiers', 'position', 'still', 'clean', 'sharps'] as const;

function isSupply(one: string): one is Supply {
  return (SUPPLIES as readonly string[]).includes(one);
}

/** What the supplies allow, under this laboratory's stain and the programme's limit of passes. */
export function suppliesNow(moment: Moment): SupplyJudgement {
  const lab = laboratoryOf(moment.world.programme, moment.case!.siteId);
  return judgeSupplies({
    has: listAnswer(moment, 'supplies').filter(isSupply),
    stain: lab.stain,
    policyLimit: limitOf(moment.world.programme, 'passes'),
  });
}

/** The way of sampling: the worker's own choice where the supplies allow it, else the first possible one. */
export function techniqueNow(moment: Moment): Technique {
  const judged = suppliesNow(moment);
  if (!judged.ok) return 'capillary';
  const chosen = techniques.find((one) => answerOf(moment.case!, 'technique') === one);
  return chosen && judged.techniques.includes(chosen) ? chosen : judged.technique;
}

/** A node is sucked where there is a way to, unless the worker chose otherwise (clinical/node-sampling.ts). */
function techniqueFor(moment: Moment, kind: Target['kind']): Technique {
  const usual = techniqueNow(moment);
  const judged = suppliesNow(moment);
  if (kind === 'nodule' || !judged.ok || answerOf(moment.case!, 'technique')) return usual;
  return judged.techniques.find((one) => one !== 'capillary') ?? usual;
}

function word(moment: Moment, key: KeyIn<'ready'>): string {
  return moment.world.texts.render(moment.person.locale, `ready.${key}`, () => '');
}

function missingChecks(moment: Moment): readonly string[] {
  const done = listAnswer(moment, 'checks');
  return neededChecks.filter((one) => !done.includes(one));
}

/** What is to be sampled now: all that was proposed, or the first where the supplies do not reach for two. */
export function aimsNow(moment: Moment): readonly Aim[] {
  const proposed = aimsOf(moment.case!);
  const judged = suppliesNow(moment);
  const attempts = judged.ok ? judged.attempts : 0;
  return proposed.slice(0, Math.max(1, Math.min(proposed.length, attempts)));
}

/** Slides for each specimen: what the laboratory wants, what there is, shared among the nodules. */
function slidesEach(moment: Moment, specimens: number): number {
  const has = listAnswer(moment, 'supplies');
  const wanted = laboratoryOf(moment.world.programme, moment.case!.siteId).slides;
  if (!has.includes('slides-many')) return 2;
  return specimens > 1 ? Math.max(2, Math.floor(wanted / specimens)) : wanted;
}

/**
 * Random digits of a new code: more once so many are out that a guess would hit, and after a restore, when codes are out
 * there that this line does not know and must not give to another patient.
 */
function randomDigits(moment: Moment): 6 | 8 {
  const { world, now } = moment;
  return world.codesIssued >= ISSUED_BEFORE_LONG_CODES || restoredLately(world, now) ? 8 : 6;
}

function issueCodes(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const now = aimsNow(moment);
  const targets = now.flatMap((one) => targetOf(one) ?? []);
  const missing = targets.filter((target) => !of.specimens.some((one) => sameTarget(one.target, target)));
  const slides = slidesEach(moment, now.length);
  // Codes of other cases are refused by the store, and the step is then taken again with other digits.
  return missing.map((target, index) => {
    const bytes = Uint8Array.from({ length: 8 }, () => moment.draw.below(256));
    return record({
      type: 'code-issued',
      specimen: `s${of.specimens.length + index + 1}`,
      target,
      code: makeCode(drawPayload(bytes, randomDigits(moment))),
      technique: techniqueFor(moment, target.kind),
      slides,
    });
  });
}

/** Still and moving, clean and sore: one of the two is a slip, and nobody guesses which. */
function contradict(ids: readonly string[]): boolean {
  const both = (one: string, other: string): boolean => ids.includes(one) && ids.includes(other);
  return both('still', 'not-still') || both('clean', 'sore-skin');
}

/** Reads a list and keeps what was said before, so that a second reply need not repeat the first. */
function readMore(text: string, moment: Moment): Parsed<readonly string[]> {
  const got = readChoices(text, optionsOf(moment));
  if (!got.ok) return got;
  if (contradict(got.value)) return unreadable('not-both');
  if (got.value.includes('not-still')) return got;
  return { ok: true, value: [...new Set([...listAnswer(moment, 'checks'), ...got.value])] };
}

export const ready: Matter = {
  decisions: {
    supplies: {
      outcomes: ['enough', 'for-one-lump', 'no-fixative', 'lacking', 'no-fixative-and-more'],
      decide: (m) => {
        const judged = suppliesNow(m);
        if (judged.ok) return aimsNow(m).length < (m.case!.decided?.proposed.length ?? 0) ? 'for-one-lump' : 'enough';
        if (!judged.stops.includes('no-fixative')) return 'lacking';
        return judged.stops.length === 1 ? 'no-fixative' : 'no-fixative-and-more';
      },
    },
    checks: {
      outcomes: ['complete', 'missing', 'not-still', 'sore-skin', 'high-pressure'],
      decide: (m) => {
        if (listAnswer(m, 'checks').includes('not-still')) return 'not-still';
        const hindrance = firstHindrance(m);
        if (hindrance === 'sore-skin' || hindrance === 'high-pressure') return hindrance;
        return missingChecks(m).length === 0 ? 'complete' : 'missing';
      },
    },
    'next-unchecked': {
      outcomes: ['pencil', 'done'],
      decide: (m) => {
        const next = m.case!.specimens.find((one) => !one.codeChecked && one.end === null);
        return { outcome: next ? 'pencil' : 'done', acts: [{ do: 'item', item: next?.id ?? null }] };
      },
    },
  },
  recorders: {
    'issue-codes': issueCodes,
    'code-read': (m) => [record({ type: 'code-checked', specimen: m.specimen!.id })],
  },
  readers: {
    checks: (text, m) => {
      const got = readChoices(text, optionsOf(m));
      if (!got.ok) return got;
      if (contradict(got.value)) return unreadable('not-both');
      const technique = techniques.find((one) => got.value.includes(one)) ?? null;
      // A new look at the patient: what an earlier one allowed or put right no longer counts.
      const fields = { technique, pressure: null, 'needle-allowed': null };
      return { ok: true, value: { value: got.value, fields } };
    },
    'more-checks': (text, m) => {
      const got = readMore(text, m);
      return got.ok ? { ok: true, value: { value: got.value } } : got;
    },
    'slide-code': (text, m) => {
      const got = readCode(text, (typed) => {
        const checked = checkCode(typed);
        if (checked.ok) return { ok: true, code: checked.code };
        return { ok: false, reason: checked.reason === 'length' ? 'bad-code-length' : 'bad-code-check' };
      });
      if (!got.ok) return got;
      if (!m.specimen) return unreadable('bad-code-check');
      const same = got.value === m.specimen.code;
      return { ok: true, value: { value: got.value, outcome: same ? 'answered' : 'other-code' } };
    },
  },
  values: {
    lacking: {
      of: (m) => {
        const judged = suppliesNow(m);
        return judged.ok ? '' : judged.stops.map((one) => word(m, `lack-${one}`)).join(', ');
      },
      sample: 'syringe, needle 22-27G, 2 slides',
    },
    supplyNotes: {
      of: (m) => {
        const notes = suppliesNow(m).notes;
        // Some are for doctors or said elsewhere: they have no text here.
        const keys = notes.map((one) => `ready.note-${one}`).filter((key) => m.world.texts.has(key));
        const said = keys.map((key) => m.world.texts.render(m.person.locale, key, () => ''));
        return said.length === 0 ? '' : `${m.case?.tag}: ${said.join(' ')}`;
      },
      sample: 'AK: 22G bleeds more than 23-27G: take the thinnest you have.',
    },
    techniqueLine: {
      of: (m) => {
        const judged = suppliesNow(m);
        const technique = judged.ok ? judged.technique : 'capillary';
        const noHolder = technique === 'capillary' && !listAnswer(m, 'supplies').includes('holder');
        return word(m, noHolder ? 'technique-capillary-no-holder' : `technique-${technique}`);
      },
      sample: 'no holder: CAPILLARY, as good',
    },
    otherWays: {
      of: (m) => {
        const judged = suppliesNow(m);
        // With a holder, the others are what can be done instead: it stands first.
        const others = judged.ok ? judged.techniques.slice(1).filter((one) => one !== 'holder') : [];
        const ways = others.map((one) => word(m, `way-${one}`)).join(', ');
        return others.length === 0 ? '' : m.world.texts.render(m.person.locale, 'ready.or-add', () => ways);
      },
      sample: ' (or C no suction, A helper pulls, T IV tube)',
    },
    missingChecks: {
      of: (m) =>
        missingChecks(m)
          .map(
            (one) =>
              `${neededChecks.indexOf(one as (typeof neededChecks)[number]) + 1} ${m.world.texts.label(m.person.locale, 'checks', one)}`,
          )
          .join(', '),
      sample: '1 consent, 2 name + birth date, 3 flat, neck back, 4 keeps still, 5 hands clean, 6 sharps box',
    },
    slidesPlanned: { of: (m) => String(m.specimen?.slidesPlanned ?? 0), sample: '4' },
    slideNumbers: {
      of: (m) => {
        const count = m.specimen?.slidesPlanned ?? 0;
        return m.world.texts.render(m.person.locale, 'ready.slide-numbers', () => String(count));
      },
      sample: '1/4 to 4/4',
    },
  },
};
