/** The findings of one examination: which question comes next, how each reply is read, what is read back. */
import { answered, answeredOf, type CaseField, type ItemField } from '../../case/answers.ts';
import { answerOf, type Case } from '../../case/case.ts';
import type { Json } from '../../case/events.ts';
import { findingsOf, nodulesOf, truth } from '../../case/findings-of.ts';
import type { Composition, Findings, FindingsField, NoduleField } from '../../clinical/findings.ts';
import { growthRule } from '../../clinical/growth.ts';
import { assess } from '../../clinical/indication.ts';
import { growthBetween } from '../../clinical/nodule.ts';
import { openQuestions } from '../../clinical/open-questions.ts';
import type { Act, Matter, Moment } from '../moment.ts';
import { record } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { listAnswer, noduleId, sideOf, sizeOf, textAnswer, twoSizesOf, zoneOf } from './common.ts';
import { readers } from './findings-readers.ts';
import { checkList, pregnancyText } from './findings-words.ts';
import { namedAnew, nobodyYet } from './same-patient.ts';

/** The case's findings as the clinical rules read them. */
export function findingsNow(moment: Moment): Findings {
  const site = siteOf(moment.world.programme, moment.case!.siteId);
  return findingsOf(moment.case!, { guidance: site.guidance, year: localTime(moment.now, site.zone).year });
}

const said = (of: Case, field: CaseField): boolean => answerOf(of, field) != null;
const saidOf = (of: Case, item: string, field: ItemField): boolean => answerOf(of, field, item) != null;

/** Every state of the flow that asks, and the two ways out. */
const outcomes = [
  'patient',
  'signs',
  'risks',
  'inr',
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
  'sponge',
  'eccentric',
  'solid-part',
  'seen',
  'rim',
  'read-back',
  'settled',
] as const;
type Next = { readonly outcome: (typeof outcomes)[number]; readonly item?: string };

/**
 * The next question: gates first, then only what can still change the advice. Danger signs, risks with bleeding, the
 * examination and the ultrasound are asked of everybody; a nodule that will be sampled is described in full, so that
 * the result can be held against it.
 */
function nextFinding(moment: Moment): Next {
  const of = moment.case;
  if (!of) return { outcome: 'patient' };
  if (!said(of, 'dangerSigns')) return { outcome: 'signs' };
  const findings = findingsNow(moment);
  const { policy, shown } = moment.world.programme;
  const { decision, because } = assess(findings, { policy });
  if (decision === 'emergency-now') return { outcome: 'settled' };
  if (because.includes('hot-nodule')) return { outcome: 'read-back' };
  const child = decision === 'refer-first' && !said(of, 'risks');
  if (child) return { outcome: 'read-back' };
  if (!said(of, 'risks')) return { outcome: 'risks' };
  const bleeding = listAnswer(moment, 'bleeding');
  if (bleeding.includes('warfarin') && !said(of, 'inr')) return { outcome: 'inr' };
  if (answerOf(of, 'otherThinner') === true && !said(of, 'thinnerKind')) return { outcome: 'thinner' };
  if (bleeding.includes('heparin') && !said(of, 'platelets')) return { outcome: 'platelets' };
  if (bleeding.includes('iv-antiplatelet') && !said(of, 'ivAntiplateletHours')) return { outcome: 'drip-hours' };
  const open = openQuestions(findings, { governing: policy, shown });
  const asks = (field: FindingsField): boolean => open.some((one) => one.field === field);
  if (decision === 'refer-first' && said(of, 'examined')) {
    // A scan or a clotting answer can still open the way; anything else is the hospital's.
    if (asks('scan') && !said(of, 'scan')) return { outcome: 'scan' };
  }
  if (isSettledReferral(findings)) return { outcome: 'read-back' };
  if (!said(of, 'examined')) return { outcome: 'examined' };
  if (answerOf(of, 'examined') === false) return { outcome: 'read-back' };
  if (!said(of, 'tsh')) return { outcome: 'tsh' };
  if (answerOf(of, 'tsh') === 'unknown' && !said(of, 'overactiveSigns')) return { outcome: 'overactive' };
  const low = answerOf(of, 'tsh') === 'low' || truth(answerOf(of, 'overactiveSigns')) === true;
  if (low) {
    const female = answerOf(of, 'patient.sex') === 'female';
    if (answerOf(of, 'tsh') === 'low' && female && !said(of, 'patient.pregnant')) return { outcome: 'pregnant' };
    const pregnant = answerOf(of, 'patient.pregnant') === 'yes';
    if (pregnant && !said(of, 'patient.pregnantWeeks')) return { outcome: 'pregnant-weeks' };
    if (!pregnant && !said(of, 'scan')) return { outcome: 'scan' };
  }
  if (!said(of, 'ultrasound.done')) return { outcome: 'ultrasound' };
  if (answerOf(of, 'ultrasound.done') !== true) return { outcome: 'read-back' };
  if (!said(of, 'nodules')) return { outcome: 'sizes' };
  const half = nodulesOf(of).find((item) => saidOf(of, item, 'mmTwo') && !saidOf(of, item, 'mm'));
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

function nextOfNodule(of: Case, findings: Findings, item: string, moment: Moment): Next | null {
  const { policy, shown } = moment.world.programme;
  const asks = (field: NoduleField): boolean =>
    openQuestions(findings, { governing: policy, shown }).some((one) => one.item === item && one.field === field);
  const features = ['echogenicity', 'foci', 'margin', 'shape', 'capsule'] as const;
  if (!saidOf(of, item, 'composition')) {
    const useful = (['composition', ...features] as const).some(asks) || wantsNeedle(findings, item, moment);
    if (useful || nodulesOf(of).length === 1) return { outcome: 'inside', item };
    return null;
  }
  const inside = answerOf(of, 'composition', item);
  const wants = (kind: Composition, field: NoduleField): boolean =>
    inside === kind && asks(field) && !saidOf(of, item, field);
  if (wants('spongiform', 'spongiformWhole')) return { outcome: 'sponge', item };
  if (wants('mixed', 'solidPartMm')) return { outcome: 'solid-part', item };
  if (wants('mixed', 'eccentric')) return { outcome: 'eccentric', item };
  if (!saidOf(of, item, 'features') && (features.some(asks) || wantsNeedle(findings, item, moment))) {
    return { outcome: 'seen', item };
  }
  const rim = listAnswer(moment, 'foci', item).includes('rim-calcification');
  if (rim && !saidOf(of, item, 'rimExtrusion')) return { outcome: 'rim', item };
  return null;
}

/** The governing policy already says sample or optional for this nodule, or it has grown and the doctor will be asked. */
function wantsNeedle(findings: Findings, item: string, moment: Moment): boolean {
  const policy = moment.world.programme.policy;
  const nodule = assess(findings, { policy }).nodules.find((one) => one.id === item);
  const word = nodule?.policies[policy].decision;
  const told = findings.nodules?.find((one) => one.id === item);
  const growth = growthBetween(told?.earlierMm ?? [], told?.mm ?? [], growthRule(policy));
  return word === 'sample' || word === 'optional' || growth === 'grown';
}

function forget(moment: Moment, fields: readonly ItemField[]): readonly Act[] {
  return nodulesOf(moment.case!).flatMap((item) => fields.map((field) => record(answeredOf(field, item, null))));
}

/** Initials; side or age too where another open case of the site shares them. */
export function tagFor(moment: Moment, initials: string, age: string, ownId: string | null): string {
  const others = new Set(moment.world.briefs.filter((one) => one.id !== ownId).map((one) => one.tag));
  if (!others.has(initials)) return initials;
  const withAge = `${initials}${age}`;
  if (!others.has(withAge)) return withAge;
  for (let number = 2; ; number += 1) if (!others.has(`${withAge}-${number}`)) return `${withAge}-${number}`;
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
  const said = ['patient.birthYear', 'patient.ageYears', 'patient.pregnant', 'patient.pregnantWeeks'] as const;
  const cleared = said.map((field) => record(answered(field, null)));
  return [
    record({ type: 'retagged', tag: tagFor(moment, name, shortAge(fields), of.id) }),
    ...cleared,
    ...answersOf(fields),
  ];
}

export const findings: Matter = {
  decisions: {
    'has-patient': { outcomes: ['known', 'unknown'], decide: (m) => (m.case ? 'known' : 'unknown') },
    'next-finding': {
      outcomes,
      decide: (m) => {
        const next = nextFinding(m);
        return { outcome: next.outcome, acts: [{ do: 'item', item: next.item ?? null }] };
      },
    },
  },
  recorders: {
    'open-case': (m) => {
      // Named once more, on the way back: what was said of the name before does not stand.
      if (m.case) return [...nobodyYet(m.case), ...renamed(m, m.case)];
      const fields = patientFields(m);
      const practice = m.frame.vars.practice === true;
      return [
        record({
          type: 'opened',
          tag: tagFor(m, marked(m, practice, String(fields.initials)), shortAge(fields), null),
          siteId: m.person.siteId,
          ownerId: m.person.id,
          practice,
          ...(typeof m.frame.vars.earlier === 'string' ? { earlierCaseId: m.frame.vars.earlier } : {}),
        }),
        ...answersOf(fields),
      ];
    },
    'rename-case': (m) => (m.case ? [...namedAnew(m, patientFields(m)), ...renamed(m, m.case)] : []),
    'forget-inside': (m) =>
      forget(m, ['composition', 'spongiformWhole', 'solidPartMm', 'eccentric', 'features', 'rimExtrusion']),
    'forget-seen': (m) => forget(m, ['features', 'rimExtrusion']),
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
    pregnancy: { of: pregnancyText, sample: '' },
    checkList: {
      of: checkList,
      sample: '1 signs 0 2 risks 0 3 felt R 4 TSH normal 5 US linear 6 R 22x15x14 7 solid 8 dark',
    },
    year: { of: (m) => String(localTime(m.now, zoneOf(m)).year), sample: '2030' },
    sexWord: {
      of: (m) => m.world.texts.label(m.person.locale, 'sexShort', textAnswer(m, 'patient.sex')),
      sample: 'F',
    },
  },
};
