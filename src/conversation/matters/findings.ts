/** The findings of one examination: which question comes next, how each reply is read, what is read back. */
import type { ItemField } from '../../case/answers.ts';
import { type AskedPart, answerToPart, partNames } from '../../case/asked-parts.ts';
import { answerOf, type Case } from '../../case/case.ts';
import type { Json } from '../../case/events.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import { storedAs } from '../../case/stored.ts';
import type { Findings, FindingsField } from '../../clinical/findings.ts';
import { assess } from '../../clinical/indication.ts';
import { openQuestions } from '../../clinical/open-questions.ts';
import type { PolicyId } from '../../clinical/policies/policy.ts';
import { foldWord } from '../../text/fold.ts';
import { screenBreak } from '../../text/screens.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { record } from '../moment.ts';
import { localTime } from '../schedule.ts';
import { isSaid, nextOfTsh } from './asked.ts';
import { askedMore, nextOfInr } from './asked-more.ts';
import { listAnswer, noduleId, sideOf, sizeOf, textAnswer, twoSizesOf, zoneOf } from './common.ts';
import { beforeValues } from './findings-before.ts';
import { checkScreens } from './findings-check.ts';
import { findingsNow } from './findings-now.ts';
import { readers } from './findings-readers.ts';
import { pregnancyText, seenText } from './findings-words.ts';
import { isSaidOf, nextOfNodule } from './next-of-nodule.ts';
import type { QuickField } from './quick-fields.ts';
import { namedAnew, nobodyYet } from './same-patient.ts';

/** Every state of the flow that asks, and the two ways out. */
const outcomes = [
  'patient',
  ...partNames,
  'family-and-pet',
  'fixed-lump',
  'inr',
  'inr-days',
  'inr-changed',
  'thinner',
  'platelets',
  'drip-hours',
  'examined',
  'tsh',
  'overactive',
  'pregnant',
  'pregnant-weeks',
  'scan',
  'ultrasound',
  'sizes',
  'third',
  'inside',
  'inside-again',
  'sponge',
  'eccentric',
  'solid-part',
  'looks',
  'bright',
  'rim',
  'felt',
  'read-back',
  'settled',
] as const;
type Next = { readonly outcome: (typeof outcomes)[number]; readonly item?: string };

/**
 * The next question: gates first, then only what can still change the advice. Danger signs, family, bleeding, the
 * examination and the ultrasound are asked of everybody; a nodule that will be sampled is described in full, so that
 * the result can be held against it. Noisy breathing waits for no other question.
 */
function nextFinding(moment: Moment): Next {
  const of = moment.case;
  if (!of) return { outcome: 'patient' };
  const findings = findingsNow(moment);
  const { policy, shown, inrHours } = moment.world.programme;
  const { decision, because } = assess(findings, { policy, inrHours });
  if (decision === 'emergency-now') return { outcome: 'settled' };
  const asked = (part: AskedPart): boolean => answerToPart(of, part) !== null;
  const signs = (['breathing', 'story', 'lump'] as const).find((part) => !asked(part));
  if (signs) return { outcome: signs };
  const said = listAnswer(moment, 'dangerSigns');
  if (said.includes('fixed') && !said.includes('neck-nodes') && !isSaid(of, 'fixedLump')) {
    return { outcome: 'fixed-lump' };
  }
  if (because.includes('hot-nodule')) return { outcome: 'read-back' };
  const child = decision === 'refer-first' && !asked('family');
  if (child) return { outcome: 'read-back' };
  if (!asked('family')) return { outcome: moment.world.programme.asksPet ? 'family-and-pet' : 'family' };
  if (findings.risks?.includes('family-medullary')) return { outcome: 'read-back' };
  return nextOfBleeding(moment, of) ?? nextOfThyroid(moment, of, findings, [policy, ...shown]);
}

/** Why a scan is asked about: a TSH that nobody measured is not called low. */
function scanWhyText(moment: Moment): string {
  const key = moment.case && answerOf(moment.case, 'tsh') === 'low' ? 'new.scan-tsh-low' : 'new.scan-overactive';
  return moment.world.texts.render(moment.person.locale, key, () => '');
}

function nextOfBleeding(moment: Moment, of: Case): Next | null {
  if (answerToPart(of, 'bleeding') === null) return { outcome: 'bleeding' };
  const bleeding = listAnswer(moment, 'bleeding');
  if (bleeding.includes('bleeding-disorder')) return null;
  const inr = bleeding.includes('warfarin') ? nextOfInr(of) : null;
  if (inr) return { outcome: inr };
  if (answerOf(of, 'otherThinner') === true && !isSaid(of, 'thinnerKind')) return { outcome: 'thinner' };
  if (bleeding.includes('heparin') && !isSaid(of, 'platelets')) return { outcome: 'platelets' };
  if (bleeding.includes('iv-antiplatelet') && !isSaid(of, 'ivAntiplateletHours')) return { outcome: 'drip-hours' };
  return null;
}

function nextOfThyroid(
  moment: Moment,
  of: Case,
  findings: Findings,
  [policy, ...shown]: readonly [PolicyId, ...PolicyId[]],
): Next {
  const open = openQuestions(findings, { governing: policy, shown });
  const asks = (field: FindingsField): boolean => open.some((one) => one.field === field);
  const { decision } = assess(findings, { policy });
  if (decision === 'refer-first' && isSaid(of, 'examined')) {
    // A scan or a clotting answer can still open the way; anything else is the hospital's.
    if (asks('scan') && !isSaid(of, 'scan')) return { outcome: 'scan' };
  }
  if (isSettledReferral(findings)) return { outcome: 'read-back' };
  if (!isSaid(of, 'examined')) return { outcome: 'examined' };
  if (answerOf(of, 'examined') === false) return { outcome: 'read-back' };
  if (!isSaid(of, 'tsh')) return { outcome: 'tsh' };
  const ofTsh = nextOfTsh(of);
  if (ofTsh !== null) return { outcome: ofTsh };
  if (!isSaid(of, 'ultrasound.done')) return { outcome: 'ultrasound' };
  if (answerOf(of, 'ultrasound.done') !== true) return { outcome: 'read-back' };
  if (!isSaid(of, 'nodules')) return { outcome: 'sizes' };
  const half = nodulesOf(of).find((item) => isSaidOf(of, item, 'mmTwo') && !isSaidOf(of, item, 'mm'));
  if (half !== undefined) return { outcome: 'third', item: half };
  for (const item of nodulesOf(of)) {
    const next = nextOfNodule(of, findings, item, moment);
    if (next) return next;
  }
  return { outcome: 'read-back' };
}

/** A family of medullary cancer or a bleeding disorder goes to a hospital whatever the nodule looks like. */
function isSettledReferral(findings: Findings): boolean {
  return Boolean(findings.risks?.includes('family-medullary') || findings.bleeding?.includes('bleeding-disorder'));
}

/** Lines of the read-back that are asked of each nodule, by the field that holds the answer. */
const ofEachNodule: ReadonlyMap<string, ItemField> = new Map([
  ['inside', 'composition'],
  ['looks', 'features'],
  ['bright', 'asked-bright'],
]);

/** A line of the read-back is asked once more, one nodule after the other; nothing that was said goes away by that. */
function askAgain(moment: Moment): readonly Act[] {
  const line = String(moment.answer);
  const field = ofEachNodule.get(line);
  const redo = nodulesOf(moment.case!).filter((item) => field !== undefined && isSaidOf(moment.case!, item, field));
  return [{ do: 'vars', vars: { redo: redo.map((item) => [line, item]) } }];
}

function nextAgain(moment: Moment): { readonly next: Next; readonly left: Json } | null {
  const { redo } = moment.frame.vars;
  const [first, ...left] = Array.isArray(redo) ? (redo as readonly (readonly [Next['outcome'], string])[]) : [];
  return first === undefined
    ? null
    : { next: { outcome: first[0], item: first[1] }, left: left.map((one) => [...one]) };
}

/** Initials; the age too where another open case of the site shares them, or where they are a word of the line (`NO`). */
export function tagFor(moment: Moment, initials: string, age: string, ownId: string | null): string {
  const others = new Set(moment.world.briefs.filter((one) => one.id !== ownId).map((one) => one.tag));
  const isWord = moment.world.texts.keyword(moment.person.locale, foldWord(initials)) !== null;
  if (!isWord && !others.has(initials)) return initials;
  const withAge = `${initials}${age}`;
  if (!others.has(withAge)) return withAge;
  for (let number = 2; ; number += 1) if (!others.has(`${withAge}-${number}`)) return `${withAge}-${number}`;
}

/**
 * Another open patient of this phone has the same initials: each of the two gets its age, and the worker hears it. `tag`: the
 * new one's.
 */
export function partedFrom(moment: Moment, initials: string, tag: string, ownId: string | null): readonly Act[] {
  const { id: personId } = moment.person;
  const taken = new Set([tag, ...moment.world.briefs.map((one) => one.tag)]);
  return moment.cases.flatMap((one): readonly Act[] => {
    const isOther = one.id !== ownId && one.ownerId === personId && one.closed === null && one.tag === initials;
    const parted = `${initials}${ageOf(one)}`;
    if (!isOther || taken.has(parted)) return [];
    const vars = { was: initials };
    const what = { kind: 'tell', key: 'new.parted', caseId: one.id, item: null, vars, lane: 'notice' } as const;
    return [
      { do: 'record', event: { type: 'retagged', tag: parted }, caseId: one.id },
      { do: 'post', personId, what },
    ];
  });
}

function ageOf(of: Case): string {
  const born = answerOf(of, 'patient.birthYear');
  return typeof born === 'number' ? String(born).slice(-2) : String(answerOf(of, 'patient.ageYears') ?? '');
}

/** Practice says so at the start of every text: in the tag itself. */
function marked(moment: Moment, practice: boolean, initials: string): string {
  if (!practice) return initials;
  return `${moment.world.texts.render(moment.person.locale, 'new.practice-mark', () => '')} ${initials}`;
}

function patientFields(moment: Moment): Readonly<Record<string, Json>> {
  return (moment.answer ?? {}) as Readonly<Record<string, Json>>;
}

function answersOf(fields: Readonly<Record<string, Json>>): readonly Act[] {
  return Object.entries(fields)
    .filter(([, value]) => value !== null)
    .map(([name, value]) => record({ type: 'answered', field: `patient.${name}`, item: null, value }));
}

/** What a quick text said of the findings before it was known whose they are. */
function saidWithNew(moment: Moment): readonly Act[] {
  const { quick } = moment.frame.vars;
  const said = storedAs<readonly QuickField[]>(quick) ?? [];
  return said.map((one) => record({ type: 'answered', field: one.field, item: one.item, value: one.value }));
}

/** What the doctor was asked about this patient before it was known who it is. */
function askedBefore(moment: Moment): readonly Act[] {
  const asked = moment.questions.find((one) => one.id === moment.frame.vars.question && one.caseId === null);
  return asked ? [{ do: 'file-question', question: asked }] : [];
}

function shortAge(fields: Readonly<Record<string, Json>>): string {
  return fields.birthYear ? String(fields.birthYear).slice(-2) : String(fields.ageYears ?? '');
}

/** Tag, side and the two sizes that were said of a nodule. */
function measuredTwo(moment: Moment): string {
  const id = noduleId(moment);
  const side = moment.world.texts.label(moment.person.locale, 'sideShort', sideOf(moment, id) ?? '');
  return `${moment.case?.tag ?? ''} ${side} ${twoSizesOf(moment, id).join('x')}`.replace(/\s+/g, ' ').trim();
}

function renamed(moment: Moment, of: Case): readonly Act[] {
  const fields = patientFields(moment);
  const name = marked(moment, of.practice, String(fields.initials));
  const cleared = ['birthYear', 'ageYears', 'pregnant', 'pregnantWeeks'].map((one) =>
    record({ type: 'answered', field: `patient.${one}`, item: null, value: null }),
  );
  const tag = tagFor(moment, name, shortAge(fields), of.id);
  return [record({ type: 'retagged', tag }), ...cleared, ...answersOf(fields), ...partedFrom(moment, name, tag, of.id)];
}

/** This person's patient with a needle in, or about to have one. */
function needleIn(moment: Moment): Case | null {
  const own = moment.cases.filter((one) => one.ownerId === moment.person.id && one.closed === null);
  return own.find((one) => one.status === 'sampling') ?? null;
}

export const findings: Matter = {
  decisions: {
    'has-patient': {
      outcomes: ['known', 'unknown', 'needle-in'],
      decide: (m) => (m.case ? 'known' : needleIn(m) ? 'needle-in' : 'unknown'),
    },
    'steps-begun': {
      outcomes: ['yes', 'no'],
      decide: (m) => {
        const { outcome } = nextFinding(m);
        const isOpen = outcome !== 'read-back' && outcome !== 'settled';
        return answerOf(m.case!, 'examined-now') === 'done' && isOpen ? 'yes' : 'no';
      },
    },
    'next-finding': {
      outcomes,
      decide: (m) => {
        const again = nextAgain(m);
        const first = again?.next ?? nextFinding(m);
        const more = m.case && first.outcome === 'read-back' ? askedMore(m) : null;
        const next: Next = more ?? first;
        const left: readonly Act[] = again ? [{ do: 'vars', vars: { redo: again.left } }] : [];
        return { outcome: next.outcome, acts: [{ do: 'item', item: next.item ?? null }, ...left] };
      },
    },
  },
  recorders: {
    'open-case': (m) => {
      // Named once more, on the way back: what was said of the name before does not stand.
      if (m.case) return [...nobodyYet(m.case), ...renamed(m, m.case)];
      const fields = patientFields(m);
      const practice = m.frame.vars.practice === true;
      const name = marked(m, practice, String(fields.initials));
      const tag = tagFor(m, name, shortAge(fields), null);
      return [
        record({
          type: 'opened',
          tag,
          siteId: m.person.siteId,
          ownerId: m.person.id,
          practice,
          ...(typeof m.frame.vars.earlier === 'string' ? { earlierCaseId: m.frame.vars.earlier } : {}),
        }),
        ...answersOf(fields),
        ...saidWithNew(m),
        ...askedBefore(m),
        ...partedFrom(m, name, tag, null),
      ];
    },
    'rename-case': (m) => (m.case ? [...namedAnew(m, patientFields(m)), ...renamed(m, m.case)] : []),
    'ask-again': askAgain,
  },
  readers,
  values: {
    nodule: {
      of: (m) => {
        const id = noduleId(m);
        const side = m.world.texts.label(m.person.locale, 'sideShort', sideOf(m, id) ?? '');
        return `${m.case?.tag ?? ''} ${side} ${sizeOf(m, id).join('x')}`.replace(/\s+/g, ' ').trim();
      },
      sample: 'AK R 22x15x14',
    },
    measuredTwo: { of: measuredTwo, sample: 'AK R 22x15' },
    needleTag: { of: (m) => needleIn(m)?.tag ?? '', sample: 'AK' },
    pregnancy: { of: pregnancyText, sample: '' },
    scanWhy: { of: scanWhyText, sample: 'overactive signs' },
    ...beforeValues,
    checkScreens: {
      of: checkScreens,
      sample: [
        'CHECK AK F 1982. Nothing at: C1 breathing; C2 voice; C3 feel; C4 family; C5 bleeding. C6 felt: right.',
        'AK: C7 TSH normal. C8 flat probe. C9 R 22x15x14, C10 solid, C11 dark, jagged edge, C12 no bright spots.',
        'AK: All right? Send OK. To change one: C and its number, C3. Name, age: CP',
      ].join(screenBreak),
    },
    seenHere: { of: (m) => seenText(m, noduleId(m) ?? ''), sample: 'taller than wide, tiny white dots' },
    insideHere: {
      of: (m) => m.world.texts.label(m.person.locale, 'composition', textAnswer(m, 'composition', noduleId(m))),
      sample: 'all fluid',
    },
    year: { of: (m) => String(localTime(m.now, zoneOf(m)).year), sample: '2030' },
    sexWord: {
      of: (m) => m.world.texts.label(m.person.locale, 'sexShort', textAnswer(m, 'patient.sex')),
      sample: 'F',
    },
  },
};
