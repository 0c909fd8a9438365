/** Faults at seams, written by somebody who knew the product and had not read the walker: of ten it has to see nine. */
import type { Way } from '../ways.ts';
import type { WalkerMutant } from './mutants.ts';

export interface OutsiderMutant extends Pick<WalkerMutant, 'name' | 'changes'> {
  /** The batches whose patients can meet it, where those of the others hardly do. */
  readonly way?: Way;
}

export const outsiders: readonly OutsiderMutant[] = [
  {
    name: 'a node is needled without weighing the bleeding gates where the lump itself needs no needle',
    changes: [
      {
        file: 'src/clinical/indication.ts',
        is: '  const needle = situation.needle || isRaised;',
        becomes: '  const { needle } = situation;',
      },
    ],
  },
  {
    name: 'sizes that are sent again give a lump the details of another',
    changes: [
      {
        file: 'src/conversation/matters/measured-nodules.ts',
        is: "import { listAnswer, sideOf, sizeOf } from './common.ts';",
        becomes: "import { listAnswer, sideOf } from './common.ts';",
      },
      {
        file: 'src/conversation/matters/measured-nodules.ts',
        is: "  const alike = there.filter((id) => sizeOf(moment, id).join('x') === (one.mm ?? []).join('x'));\n  return alike.length === 1 && one.mm !== null ? alike[0]! : null;",
        becomes: '  return there[here.indexOf(one)] ?? null;',
      },
    ],
  },
  {
    name: 'what is new on the day of the needle brings no new caution',
    way: 'bedside',
    changes: [
      {
        file: 'src/conversation/matters/another-day.ts',
        is: '    (before?.cautions ?? []).join() === now.cautions.join() &&',
        becomes: '',
      },
    ],
  },
  {
    name: "after a doctor's yes beside an urgent referral what was not asked stays unasked",
    way: 'bedside',
    changes: [
      {
        file: 'flows/decision.yaml',
        is: '      answered: { record: start-referral, say: referral.day-noted, target: allowed }',
        becomes: '      answered: { record: start-referral, say: referral.day-noted, target: released }',
      },
    ],
  },
  {
    name: 'a yes after one alarm lifts every later alarm',
    changes: [
      {
        file: 'src/conversation/matters/hindrances.ts',
        is: "  const allowed = answerOf(of, 'alarm-allowed') === true ? (of.answeredAt['alarm-allowed'] ?? 0) : 0;\n  const day = (instant: number): string => dayText(localTime(instant, zoneOf(moment)));\n  return allowed < at && day(at) === day(moment.now);",
        becomes:
          "  const day = (instant: number): string => dayText(localTime(instant, zoneOf(moment)));\n  return answerOf(of, 'alarm-allowed') !== true && day(at) === day(moment.now);",
      },
    ],
  },
  {
    name: 'the second fluid is judged by the look of the first',
    way: 'wet',
    changes: [
      {
        file: 'src/conversation/matters/fluid.ts',
        is: '  const look: FluidLook | undefined = moment.specimen?.fluids.at(-1)?.look;',
        becomes: '  const look: FluidLook | undefined = moment.specimen?.fluids[0]?.look;',
      },
    ],
  },
  {
    name: 'a node above the collarbone is stopped on the first day only',
    way: 'nodes',
    changes: [
      {
        file: 'src/conversation/matters/node.ts',
        is: "  const blind = aims.find((one) => textAnswer(moment, 'level', one.item) === 'low' && !isGuidedHere(moment));\n  if (blind) return { outcome: 'blind', item: blind.item };",
        becomes: '',
      },
    ],
  },
  {
    name: 'a code stands although the side of its lump was put right',
    changes: [
      {
        file: 'src/case/target.ts',
        is: '  const isSame = sameTarget(one, other) && one.side === other.side && spotOf(one) === spotOf(other);',
        becomes: '  const isSame = sameTarget(one, other) && spotOf(one) === spotOf(other);',
      },
    ],
  },
  {
    name: 'an amended result counts as told, because the first one was',
    changes: [
      {
        file: 'src/case/case.ts',
        is: "import { emptySpecimen, noCase, noResult, nothingDone } from './blank.ts';",
        becomes: "import { emptySpecimen, noCase, noResult } from './blank.ts';",
      },
      { file: 'src/case/case.ts', is: '        ...nothingDone,', becomes: '' },
    ],
  },
  {
    name: 'the pressing result of one jar waits for the other jar',
    changes: [
      {
        file: 'src/case/duty.ts',
        is: "  const waitsForOther = of.status === 'posted' || of.status === 'received' ? open.find(pressing) : undefined;",
        becomes: "  const waitsForOther = of.status === 'received' ? open.find(pressing) : undefined;",
      },
    ],
  },
  {
    name: "the other lump's result ends the doctor's question about the first",
    changes: [
      {
        file: 'src/conversation/matters/filing.ts',
        is: '    if (resultQuestions.has(open.about) && open.caseId === of.id && open.item === item && open.answeredAt === null) {',
        becomes: '    if (resultQuestions.has(open.about) && open.caseId === of.id && open.answeredAt === null) {',
      },
    ],
  },
  {
    name: 'a colleague who takes over gets no timer',
    changes: [
      {
        file: 'src/conversation/wake.ts',
        is: '  for (const frame of moved) {',
        becomes: '  for (const frame of frames) {',
      },
    ],
  },
];
