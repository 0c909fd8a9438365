/** Supplies, the checks before the needle, the code on the glass. */

import { answered } from '../../case/answers.ts';
import { answerOf, type Case, type Specimen } from '../../case/case.ts';
import { checkCode, drawPayload, formatCode, ISSUED_BEFORE_LONG_CODES, makeCode } from '../../case/code.ts';
import { lacksSupplies } from '../../case/duty.ts';
import { type Aim, aimsOf, identical, isOneSideFirst, sameTarget, type Target, targetOf } from '../../case/target.ts';
import {
  judgeSupplies,
  SUPPLIES,
  type Supply,
  type SupplyJudgement,
  type SupplyStop,
  type Technique,
  techniques,
} from '../../clinical/supplies.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { packedScreens } from '../../text/screens.ts';
import { type ShownOption, unreadable } from '../answers/answer.ts';
import { readChoices } from '../answers/choices.ts';
import { readCode } from '../answers/code.ts';
import { type Act, type Matter, type Moment, type Reader, record } from '../moment.ts';
import { laboratoryOf, limitOf } from '../programme.ts';
import { restoredLately } from '../restored.ts';
import { listAnswer, textAnswer } from './common.ts';
import { stopsOfNeedle } from './doctor-yes.ts';
import { isDrain } from './drainage.ts';
import { optionsOf } from './findings-readers.ts';
import { shortPlace } from './places.ts';

const neededChecks = ['consent', 'identifiers', 'still', 'clean', 'sharps'] as const;
/** What the second question of supplies is about; its answers may stand in the first reply. */
const fixWith: readonly string[] = ['alcohol-lidded', 'spray', 'weak-alcohol', 'helper', 'improvised-holder'];

function isSupply(one: string): one is Supply {
  return (SUPPLIES as readonly string[]).includes(one);
}

/** Some of the lump was seen to be fluid: a syringe on the needle empties it. */
function fluidInside(moment: Moment): boolean {
  const inside = aimsOf(moment.case!).flatMap(({ nodule }) =>
    nodule ? textAnswer(moment, 'composition', nodule) : [],
  );
  return inside.some((one) => one === 'mixed' || one === 'cystic');
}

/** What the supplies allow, under this laboratory's stain and the programme's limit of passes. */
export function suppliesNow(moment: Moment): SupplyJudgement {
  const lab = laboratoryOf(moment.world.programme, moment.case!.siteId);
  return judgeSupplies({
    has: listAnswer(moment, 'supplies').filter(isSupply),
    stain: lab.stain,
    fluidInside: fluidInside(moment),
    drain: isDrain(moment.case!),
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

/** The way of what is sampled first. */
function wayNow(moment: Moment): Technique {
  return techniqueFor(moment, aimsNow(moment)[0]?.kind ?? 'nodule');
}

function word(moment: Moment, key: KeyIn<'ready'>): string {
  return moment.world.texts.render(moment.person.locale, `ready.${key}`, () => '');
}

/** What was said not to be done yet. */
function missingChecks(moment: Moment): readonly (typeof neededChecks)[number][] {
  const missing = listAnswer(moment, 'checks');
  return neededChecks.filter((one) => missing.includes(one));
}

function lackWords(moment: Moment, stops: readonly SupplyStop[]): string {
  return stops.map((one) => word(moment, `lack-${one}`)).join(', ');
}

/** What lacks has an owner at once: the coordinators hear of it, and again until somebody says that it is there. */
function suppliesLack(moment: Moment): readonly Act[] {
  const judged = suppliesNow(moment);
  if (judged.ok) return [];
  const before = answerOf(moment.case!, 'lacking') ?? [];
  const isNews = judged.stops.join() !== before.join() && !moment.case!.practice;
  return [
    record(answered('lacking', judged.stops)),
    ...(isNews
      ? ([{ do: 'notify', to: 'coordinators', text: 'ready.lacking-for-coordinator', lane: 'notice' }] as const)
      : []),
  ];
}

/** What may be sampled today: all that was proposed, or one side of it. */
function aimsToday(of: Case): readonly Aim[] {
  const all = aimsOf(of);
  return isOneSideFirst(of) ? all.filter((one) => one.side === all[0]?.side) : all;
}

/** What is to be sampled now: all that may be today, or the first where the supplies do not reach for two. */
export function aimsNow(moment: Moment): readonly Aim[] {
  const proposed = aimsToday(moment.case!);
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

/** Codes that no needle has followed yet, and whose lump or node is none any more, or has another side, size or place now. */
function outdated(of: Case): readonly Specimen[] {
  const proposed = aimsOf(of).flatMap((one) => targetOf(one) ?? []);
  return of.specimens.filter(
    (one) => one.end === null && one.attempts.length === 0 && !proposed.some((aim) => identical(one.target, aim)),
  );
}

/** Whether this specimen is the one of this lump or node, so that no code is missing. */
function isOf(specimen: Specimen, target: Target): boolean {
  if (specimen.attempts.length > 0) return sameTarget(specimen.target, target);
  return specimen.end === null && identical(specimen.target, target);
}

/** A code for each lump or node that has none. One that is outdated is given anew where it can be, else it ends. */
function issueCodes(moment: Moment): readonly Act[] {
  const of = moment.case!;
  const now = aimsNow(moment);
  const targets = now.flatMap((one) => targetOf(one) ?? []);
  const missing = targets.filter((target) => !of.specimens.some((one) => isOf(one, target)));
  const old = outdated(of).map(({ id }) => id);
  const slides = slidesEach(moment, now.length);
  const ended = old
    .slice(missing.length)
    .map((specimen) => record({ type: 'specimen-closed', specimen, end: 'not-usable' }));
  // Codes of other cases are refused by the store, and the step is then taken again with other digits.
  const issued = missing.map((target, index) => {
    const bytes = Uint8Array.from({ length: 8 }, () => moment.draw.below(256));
    return record({
      type: 'code-issued',
      specimen: old[index] ?? `s${of.specimens.length + index - old.length + 1}`,
      target,
      code: makeCode(drawPayload(bytes, randomDigits(moment))),
      technique: techniqueFor(moment, target.kind),
      slides,
    });
  });
  return [...ended, ...issued];
}

/** Options of this question and of the one after it, so that one reply may answer both. */
function bothSupplies(moment: Moment): readonly ShownOption[] {
  const { texts } = moment.world;
  const replies: Readonly<Record<string, string>> = {
    ...{ 'alcohol-lidded': '7', spray: '8', 'weak-alcohol': 'G', helper: 'H', 'improvised-holder': 'T' },
  };
  const more = fixWith.map((id) => ({
    id,
    reply: replies[id]!,
    words: texts.words(moment.person.locale, 'supplies', id),
  }));
  return [...optionsOf(moment), ...more];
}

/** What to sample with; what was said to fix with before, on this day, still counts. */
const readSampleWith: Reader = (text, m) => {
  const got = readChoices(text, bothSupplies(m));
  if (!got.ok) return got;
  // Nothing to sample with: what to fix with is not asked first, so that a doubled 0 answers nothing.
  if (got.value.includes('none') || got.value.some((one) => fixWith.includes(one))) {
    return { ok: true, value: { value: got.value, outcome: 'both' } };
  }
  const before = listAnswer(m, 'supplies').filter((one) => fixWith.includes(one));
  const fixes = before.includes('alcohol-lidded') || before.includes('spray');
  if (!fixes) return { ok: true, value: { value: got.value, outcome: 'answered' } };
  return { ok: true, value: { value: [...got.value, ...before], outcome: 'both' } };
};

const readFixWith: Reader = (text, m) => {
  const got = readChoices(text, optionsOf(m));
  if (!got.ok) return got;
  const before = listAnswer(m, 'supplies').filter((one) => !fixWith.includes(one));
  return { ok: true, value: { value: [...before, ...got.value.filter((one) => one !== 'none')] } };
};

/** `ALL`, or what is not done; a letter chooses the way of sampling, alone or beside it. */
const readChecks: Reader = (text, m) => {
  const got = readChoices(text, optionsOf(m));
  if (!got.ok) return got;
  const technique = techniques.find((one) => got.value.includes(one)) ?? null;
  const said = got.value.filter((one) => one === 'all' || neededChecks.some((each) => each === one));
  if (said.includes('all') && said.length > 1) return unreadable('not-both');
  if (said.length === 0) return { ok: true, value: { value: null, fields: { technique }, outcome: 'way' } };
  // A new look at the patient: what an earlier one allowed or put right no longer counts.
  const kept = technique ?? answerOf(m.case!, 'technique') ?? null;
  return { ok: true, value: { value: said, fields: { technique: kept, pressure: null, 'needle-allowed': null } } };
};

/** Those of a list that were named, without the words for none. */
const readNamed: Reader = (text, m) => {
  const got = readChoices(text, optionsOf(m));
  if (!got.ok) return got;
  return { ok: true, value: { value: got.value.filter((one) => one !== 'none') } };
};

function checkNumber(_moment: Moment, check: (typeof neededChecks)[number]): string {
  return String(41 + neededChecks.indexOf(check));
}

function checkWords(moment: Moment, check: (typeof neededChecks)[number]): string {
  return moment.world.texts.label(moment.person.locale, 'checks', check);
}

export const ready: Matter = {
  decisions: {
    supplies: {
      outcomes: ['enough', 'for-one-lump', 'no-fixative', 'lacking', 'no-fixative-and-more'],
      decide: (m) => {
        const judged = suppliesNow(m);
        if (judged.ok) return aimsNow(m).length < aimsToday(m.case!).length ? 'for-one-lump' : 'enough';
        if (!judged.stops.includes('no-fixative')) return 'lacking';
        return judged.stops.length === 1 ? 'no-fixative' : 'no-fixative-and-more';
      },
    },
    checks: {
      outcomes: ['complete', 'missing'],
      decide: (m) => (missingChecks(m).length === 0 ? 'complete' : 'missing'),
    },
    'codes-stand': {
      outcomes: ['yes', 'no', 'stopped'],
      decide: (m) => {
        if (stopsOfNeedle(m).length > 0) return 'stopped';
        const old = outdated(m.case!).map(({ code }) => formatCode(code));
        return { outcome: old.length === 0 ? 'yes' : 'no', acts: [{ do: 'vars', vars: { outdated: old.join(', ') } }] };
      },
    },
    'next-unchecked': {
      outcomes: ['pencil', 'done', 'no-lump'],
      decide: (m) => {
        const open = m.case!.specimens.filter((one) => one.end === null);
        if (open.length === 0) return 'no-lump';
        const next = open.find((one) => !one.codeChecked);
        return { outcome: next ? 'pencil' : 'done', acts: [{ do: 'item', item: next?.id ?? null }] };
      },
    },
  },
  recorders: {
    'supplies-lack': suppliesLack,
    'supplies-there': (m) => (lacksSupplies(m.case!) ? [record(answered('lacking', []))] : []),
    'issue-codes': issueCodes,
    'code-read': (m) => {
      const { id, technique, target } = m.specimen!;
      const now = techniqueFor(m, target.kind);
      return [record({ type: 'code-checked', specimen: id, ...(now === technique ? {} : { technique: now }) })];
    },
    // Another day, another table: what was at hand and what was seen is looked at anew.
    'forget-day': () =>
      (['supplies', 'technique', 'checks', 'dangers', 'pressure', 'needle-allowed'] as const).map((field) =>
        record(answered(field, null)),
      ),
  },
  readers: {
    'sample-with': readSampleWith,
    'fix-with': readFixWith,
    checks: readChecks,
    'more-checks': readChecks,
    'lump-felt': readNamed,
    dangers: readNamed,
    'slide-code': (text, m) => {
      const got = readCode(text, (typed) => {
        const checked = checkCode(typed);
        if (checked.ok) return { ok: true, code: checked.code };
        if (checked.reason === 'not-digits') return { ok: false, reason: 'bad-code-letters' };
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
        return judged.ok ? '' : lackWords(m, judged.stops);
      },
      sample: 'a syringe, a needle of 22-27G, 2 slides',
    },
    lackingNow: {
      of: (m) => lackWords(m, (m.case && answerOf(m.case, 'lacking')) ?? []),
      sample: 'a syringe, a needle of 22-27G',
    },
    supplyNotes: {
      of: (m) => {
        const notes = suppliesNow(m).notes;
        // Some are for doctors or said elsewhere: they have no text here.
        const keys = notes.map((one) => `ready.note-${one}`).filter((key) => m.world.texts.has(key));
        const said = keys.map((key) => m.world.texts.render(m.person.locale, key, () => ''));
        if (said.length === 0) return '';
        const head = `${m.case?.tag}:`;
        return packedScreens(head, head, said.slice(0, -1), said.at(-1)!);
      },
      sample: 'AK: A 22G needle bleeds more than 23-27G: take the thinnest you have.',
    },
    techniqueLine: {
      of: (m) => word(m, `technique-${wayNow(m)}`),
      sample: 'use the needle ALONE, as good as a holder.',
    },
    otherWays: {
      of: (m) => {
        const judged = suppliesNow(m);
        const now = wayNow(m);
        const others = judged.ok ? judged.techniques.filter((one) => one !== now) : [];
        if (others.every((one) => one === 'holder')) return '';
        const ways = others.flatMap((one) => (one === 'holder' ? [] : word(m, `way-${one}`))).join('; ');
        return m.world.texts.render(m.person.locale, 'ready.other-ways', () => ways);
      },
      sample: 'Or send C: the needle alone, no suction; A: a helper pulls; T: an IV tube as a holder.',
    },
    missingChecks: {
      of: (m) =>
        missingChecks(m)
          .map((one) => `${checkNumber(m, one)} ${checkWords(m, one)}`)
          .join(', '),
      sample:
        '41 the patient agrees, 42 name and birth date asked, 43 lies still, 44 hands and skin clean, 45 sharps box here',
    },
    outdatedCodes: { of: (m) => String(m.frame.vars.outdated ?? ''), sample: '4829 1354' },
    lumpShort: { of: (m) => (m.specimen ? shortPlace(m, m.specimen) : ''), sample: 'R 22mm' },
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
