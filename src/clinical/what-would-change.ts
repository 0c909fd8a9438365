/** What would change a decision: every single finding changed at a time, and the whole decided anew. */

import { step } from './by-size.ts';
import { policyOf } from './completions.ts';
import { partingMm } from './doubts.ts';
import { type Findings, type FindingsField, findingsChoices, type Nodule } from './findings.ts';
import { adultFromYears } from './gates.ts';
import { type Assessment, assess, defaultPolicy, type Rules } from './indication.ts';
import { type KnownFindings, type KnownNodule, knownFindings } from './known.ts';
import { solidPartThresholdsMm } from './policies/common-practice.ts';
import { raised } from './several-nodules.ts';

/** How a size stands to a threshold. */
export type Against = 'from' | 'over' | 'at-most' | 'under' | 'exactly';

/** One finding as it might be. `item`: the nodule's id, null for the patient. */
export interface Otherwise {
  readonly item: string | null;
  readonly field: FindingsField;
  /** The other answer: an option, a number, or an item of a list with `present` false where it would not be there. */
  readonly value: string | number | boolean;
  readonly present: boolean;
  readonly against: Against | null;
  /** Whether the finding has an answer now; else nobody has asked, or nobody could tell. */
  readonly known: boolean;
}

/** What the whole would come to then. */
export interface Change extends Otherwise {
  readonly to: Pick<Assessment, 'decision' | 'sampleToo'>;
}

interface Try extends Otherwise {
  readonly findings: Findings;
}

/**
 * Every single change that leads to another decision, the lumps' own before the patient's. Nothing is assumed: each is the answer
 * of `assess` to the changed findings under the same rules. Of sizes the nearest that changes it, upward and downward.
 */
export function whatWouldChange(findings: Findings, rules: Rules = {}): readonly Change[] {
  const now = assess(findings, rules);
  const differs = ({ decision, sampleToo }: Assessment): boolean =>
    decision !== now.decision || sampleToo !== now.sampleToo;
  const known = knownFindings(findings);
  const decided = (tries: readonly Try[]): readonly Change[] =>
    tries.flatMap(({ findings: changed, ...otherwise }) => {
      const then = assess(changed, rules);
      return differs(then) ? [{ ...otherwise, to: { decision: then.decision, sampleToo: then.sampleToo } }] : [];
    });
  return [
    ...ofSizes(findings, known, rules, differs),
    ...decided(ofNodules(findings, known)),
    ...decided(ofPatient(findings, known)),
  ];
}

const plain = { present: true, against: null } as const;

function ofPatient(findings: Findings, known: KnownFindings): readonly Try[] {
  const { patient, ultrasound } = findings;
  const one = (field: FindingsField, value: Otherwise['value'], isKnown: boolean, changed: Findings): Try => ({
    ...plain,
    ...{ item: null, field, value, known: isKnown, findings: { ...findings, ...changed } },
  });
  const truth = (field: 'examined' | 'guidance' | 'overactiveSigns', now: boolean | null): Try[] =>
    others([true, false], now).map((value) => one(field, value, now !== null, { [field]: value }));
  const isChild = known.ageYears !== null && known.ageYears < adultFromYears;
  return [
    ...listed(findings, 'dangerSigns', known.dangerSigns),
    ...listed(findings, 'lump', known.lump),
    ...[isChild ? adultFromYears : adultFromYears - 1].map((value) => ({
      ...one('patient.ageYears', value, known.ageYears !== null, { patient: { ...patient, ageYears: value } }),
      against: isChild ? ('from' as const) : ('under' as const),
      value: adultFromYears,
    })),
    ...listed(findings, 'risks', known.risks),
    ...listed(findings, 'bleeding', known.bleeding),
    ...truth('examined', known.examined),
    ...others(findingsChoices.tsh, known.tsh).map((tsh) => one('tsh', tsh, known.tsh !== null, { tsh })),
    ...(known.tsh === 'low' ? others(findingsChoices.scan, known.scan) : []).map((scan) =>
      one('scan', scan, known.scan !== null, { scan }),
    ),
    ...(known.tsh === null ? truth('overactiveSigns', known.overactiveSigns) : []),
    ...(known.sex === 'male' ? [] : others(findingsChoices.pregnant, known.pregnant)).map((pregnant) =>
      one('patient.pregnant', pregnant, known.pregnant !== null, { patient: { ...patient, pregnant } }),
    ),
    ...others([true, false], known.ultrasoundDone).map((done) =>
      one('ultrasound.done', done, known.ultrasoundDone !== null, { ultrasound: { ...ultrasound, done } }),
    ),
    // Felt or not is said of the neck and of each lump: here of both.
    ...others([true, false], known.palpable).map((palpable) =>
      one('palpable', palpable, known.palpable !== null, {
        palpable,
        ...(findings.nodules && { nodules: findings.nodules.map((nodule) => ({ ...nodule, palpable })) }),
      }),
    ),
    ...truth('guidance', known.guidance),
  ];
}

/** Each item of a list there where it was not, and gone where it was; none of them where the list is open. */
function listed<F extends 'dangerSigns' | 'lump' | 'risks' | 'bleeding'>(
  findings: Findings,
  field: F,
  { present, open }: { readonly present: readonly string[]; readonly open: boolean },
): readonly Try[] {
  const with_ = (value: string, isThere: boolean, list: readonly string[]): Try => ({
    ...{ item: null, field, value, present: isThere, against: null, known: !open || present.includes(value) },
    findings: { ...findings, [field]: list } as Findings,
  });
  const unknown = open ? ['unknown'] : [];
  // The older word for two signs that are asked apart, and a question that few programmes ask.
  const all = (findingsChoices[field] as readonly string[]).filter(
    (one) => one !== 'hard-or-fixed' && one !== 'pet-focus',
  );
  return [
    ...(open ? [with_('none', true, present)] : []),
    ...all.filter((one) => !present.includes(one)).map((one) => with_(one, true, [...present, one, ...unknown])),
    ...present.map((one) => with_(one, false, [...present.filter((other) => other !== one), ...unknown])),
  ];
}

function ofNodules(findings: Findings, known: KnownFindings): readonly Try[] {
  return (known.nodules ?? []).flatMap((nodule, at) => {
    const one = (
      field: FindingsField,
      value: Otherwise['value'],
      isKnown: boolean,
      changed: Nodule,
      present = true,
    ): Try => ({
      ...{ item: nodule.id, field, value, present, against: null, known: isKnown },
      findings: withNodule(findings, at, changed),
    });
    const { composition, foci } = nodule;
    const truth = (field: 'spongiformWhole' | 'eccentric' | 'hypoechoicPart'): Try[] =>
      others([true, false], nodule[field]).map((value) =>
        one(field, value, nodule[field] !== null, { [field]: value }),
      );
    const named = foci.present.filter((focus) => focus !== 'comet-tail');
    const open = foci.open ? ['unknown' as const] : [];
    return [
      ...others(findingsChoices.composition, composition).map((value) =>
        one('composition', value, composition !== null, { composition: value }),
      ),
      ...(composition === 'spongiform' ? truth('spongiformWhole') : []),
      ...(composition === 'mixed' ? truth('eccentric') : []),
      // No table tells a bright lump from a grey one, nor the three irregular edges, nor a blurred edge from a smooth one.
      ...others(['isoechoic', 'hypoechoic', 'very-hypoechoic'] as const, sameAs(nodule.echogenicity)).map((value) =>
        one('echogenicity', value, nodule.echogenicity !== null, { echogenicity: value }),
      ),
      ...others(findingsChoices.shape, nodule.shape).map((value) =>
        one('shape', value, nodule.shape !== null, { shape: value }),
      ),
      ...others(['smooth', 'irregular'] as const, edgeAs(nodule.margin)).map((value) =>
        one('margin', value, nodule.margin !== null, { margin: value }),
      ),
      ...others(findingsChoices.capsule, nodule.capsule).map((value) =>
        one('capsule', value, nodule.capsule !== null, { capsule: value }),
      ),
      ...(foci.open ? [one('foci', 'none', false, { foci: [...foci.present] })] : []),
      ...findingsChoices.foci
        .filter((focus) => focus !== 'comet-tail' && !named.includes(focus))
        .map((focus) => one('foci', focus, !foci.open, { foci: [...foci.present, focus, ...open] })),
      ...named.map((focus) =>
        one('foci', focus, true, { foci: [...foci.present.filter((other) => other !== focus), ...open] }, false),
      ),
    ];
  });
}

const sameAs = (echo: KnownNodule['echogenicity']) =>
  echo === 'hyperechoic' ? 'isoechoic' : echo === 'anechoic' ? null : echo;
const edgeAs = (margin: KnownNodule['margin']) =>
  margin === null ? null : margin === 'smooth' || margin === 'ill-defined' ? 'smooth' : 'irregular';

function ofSizes(
  findings: Findings,
  known: KnownFindings,
  rules: Rules,
  differs: (then: Assessment) => boolean,
): readonly Change[] {
  const { policy = defaultPolicy } = rules;
  const ofLump = [...new Set([...policyOf(policy).thresholdsMm, partingMm.at, raised.considerFromMm])].sort(
    (a, b) => a - b,
  );
  return (known.nodules ?? []).flatMap((nodule, at) => {
    const { size, solidPartMm, mm } = nodule;
    const told = findings.nodules?.[at]?.mm;
    const lump = (value: number): Nodule => {
      const { mmRange: _, ...rest } = findings.nodules![at]!;
      const scaled =
        told === undefined ? [value] : told.map((one) => Math.min(value, (one * value) / Math.max(...told)));
      // No part is larger than the whole.
      return { ...rest, mm: scaled, ...(solidPartMm !== null && { solidPartMm: Math.min(solidPartMm, value) }) };
    };
    const decide = (changed: Nodule): Assessment =>
      assess({ ...findings, nodules: replaced(findings, at, changed) }, rules);
    const found = (
      field: 'mm' | 'solidPartMm',
      from: number | null,
      thresholds: readonly number[],
      make: (value: number) => Nodule,
    ) =>
      nearest(from, thresholds, (value) => decide(make(value)), differs).map(
        ({ value, against, then }): Change => ({
          ...{ item: nodule.id, field, value, present: true, against, known: from !== null },
          to: { decision: then.decision, sampleToo: then.sampleToo },
        }),
      );
    const measured = size === null || size.least < size.most || mm.length === 0 ? null : size.most;
    const solid = nodule.composition === 'mixed' && policy === 'common-practice';
    return [
      ...found('mm', measured, ofLump, lump),
      ...(solid
        ? found('solidPartMm', solidPartMm, solidPartThresholdsMm, (value) => ({
            ...findings.nodules![at]!,
            solidPartMm: value,
          }))
        : []),
    ];
  });
}

/**
 * The sizes nearest to what was measured at which something else comes out, one for each thing and direction. What comes out
 * at a threshold alone, where systems part, is said to be exactly there.
 */
function nearest(
  measured: number | null,
  thresholds: readonly number[],
  decide: (mm: number) => Assessment,
  differs: (then: Assessment) => boolean,
): readonly { readonly value: number; readonly against: Against; readonly then: Assessment }[] {
  const name = ({ decision, sampleToo }: Assessment): string => `${decision} ${sampleToo}`;
  const way = (beyond: number, atIt: Against, past: Against) => {
    const inOrder = beyond > 0 ? thresholds : [...thresholds].reverse();
    const isAhead = (mm: number): boolean => measured === null || (mm - measured) * beyond > 0;
    const seen = new Set<string>();
    const fresh = (value: number, against: Against, then: Assessment) => {
      if (!differs(then) || seen.has(name(then))) return [];
      seen.add(name(then));
      return [{ value, against, then }];
    };
    return inOrder.flatMap((mm) => {
      if (!isAhead(mm + beyond)) return [];
      const [then, after] = [decide(mm), decide(mm + beyond)];
      const here = isAhead(mm) ? fresh(mm, name(then) === name(after) ? atIt : 'exactly', then) : [];
      return [...here, ...fresh(mm, past, after)];
    });
  };
  return [...way(-step, 'at-most', 'under'), ...way(step, 'from', 'over')];
}

const others = <T>(all: readonly T[], now: T | null): readonly T[] => all.filter((one) => one !== now);

const replaced = (findings: Findings, at: number, nodule: Nodule): Nodule[] =>
  (findings.nodules ?? []).map((one, place) => (place === at ? nodule : one));

const withNodule = (findings: Findings, at: number, changed: Nodule): Findings => ({
  ...findings,
  nodules: replaced(findings, at, { ...findings.nodules![at]!, ...changed }),
});
