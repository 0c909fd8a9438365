/** The label block for the side of the jar. */
import { answerOf, type Specimen } from '../../case/case.ts';
import { type Label, type LabelWords, labelLines, labelledPlace } from '../../case/label.ts';
import { fluidsSent, slidesSent } from '../../case/parcel.ts';
import { foldToGsm7 } from '../../text/gsm7.ts';
import { whenWords } from '../answer-question.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { siteOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import { watchOf, watchOver } from './aftercare.ts';
import { isRinseOpen } from './calcitonin-rinse.ts';
import { zoneOf } from './common.ts';
import { fixedHow } from './fixing.ts';
import { labelPersonDue, labelPersonOf, readLabelPerson } from './label-person.ts';
import { labelLocale, labelWords } from './label-words.ts';

function fixedSpecimens(moment: Moment): readonly Specimen[] {
  return moment.case!.specimens.filter((one) => one.end === null && one.fixedAt !== null);
}

/** The label of the frame's specimen. */
export function labelOf(moment: Moment): Label {
  const { case: of, specimen, now, world } = moment;
  return specimenLabel(specimen!, {
    person: labelPersonOf(moment),
    taken: localTime(specimen!.takenAt ?? now, zoneOf(moment)),
    site: siteOf(world.programme, of!.siteId).name,
  });
}

/** The label of a specimen, whoever asks for it. Slides that hold nothing are not counted in. */
export function specimenLabel(
  specimen: Specimen,
  { person, taken, site }: Pick<Label, 'person' | 'taken' | 'site'>,
): Label {
  const kept = specimen.slides.flatMap((one, index) => (one === 'empty' ? [] : [{ one, number: index + 1 }]));
  const wet = kept.filter(({ one }) => one === 'wet-at-once' || one === 'late').map(({ number }) => number);
  const dried = kept.filter(({ one }) => one === 'dried').map(({ number }) => number);
  const how = specimen.fixative === 'spray' ? 'spray' : 'alcohol';
  const groups: Label['slides'] =
    specimen.fixative === 'air-dried'
      ? [{ numbers: kept.map(({ number }) => number), fixation: 'dried' }]
      : [
          ...(wet.length > 0 ? [{ numbers: wet, fixation: how } as const] : []),
          ...(dried.length > 0 ? [{ numbers: dried, fixation: 'dried' } as const] : []),
        ];
  return {
    code: specimen.code,
    person,
    taken,
    technique: specimen.technique,
    side: specimen.target.side,
    place: specimen.target.kind === 'nodule' ? specimen.target.place : null,
    fluids: fluidsSent(specimen).map(({ ml, look }) => ({ ml, look })),
    node: specimen.target.kind === 'node' ? { level: specimen.target.level } : null,
    mm: specimen.target.mm,
    slides: groups,
    slidesInAll: specimen.slides.length,
    site: foldToGsm7(site),
  };
}

/** What the label is written on: a tube where there is nothing but fluid. */
function boxOf(moment: Moment): 'jar' | 'box' | 'tube' {
  const specimen = moment.specimen;
  if (!specimen || slidesSent(specimen) === 0) return 'tube';
  return specimen.fixative === 'alcohol' ? 'jar' : 'box';
}

function labelWordsOf({ world, person, case: of }: Moment): LabelWords {
  return labelWords(world.texts, labelLocale(world, of!, person.locale));
}

/** `THYROID RIGHT` as the jar says it, with the worker's own words behind it where those are others: it is compared aloud. */
function placeAloud(moment: Moment): string {
  const label = labelOf(moment);
  const written = labelledPlace(label, labelWordsOf(moment));
  const own = labelledPlace(label, labelWords(moment.world.texts, moment.person.locale));
  return written === own ? written : `${written} (${own})`;
}

export const labelling: Matter = {
  decisions: {
    'fixed-how': {
      outcomes: ['alcohol', 'alcohol-and-dried', 'spray', 'dried', 'nothing'],
      decide: (m) => fixedHow(m.case!.specimens),
    },
    'label-person': { outcomes: ['ask', 'settled'], decide: labelPersonDue },
    'next-label': {
      outcomes: ['node-look', 'ct-tube', 'label', 'done'],
      decide: (m) => {
        const open = fixedSpecimens(m);
        const next = open.find((one) => one.labelledAt === null);
        const acts = [{ do: 'item', item: next?.id ?? null } as const];
        if (!next) return { outcome: 'done', acts };
        const looked = answerOf(m.case!, 'node-look', next.id) !== undefined;
        if (next.target.kind === 'node' && !looked) return { outcome: 'node-look', acts };
        return { outcome: isRinseOpen(m, next) ? 'ct-tube' : 'label', acts };
      },
    },
  },
  readers: { 'label-person': readLabelPerson },
  recorders: {
    labelled: (m) => [record({ type: 'labelled', specimen: m.specimen!.id })],
  },
  values: {
    labelText: {
      of: (m) => (m.specimen ? labelLines(labelOf(m), labelWordsOf(m)).join('\n') : ''),
      sample:
        '4829 1354\nNAME ____________________\nBORN ___/___/1982\nTAKEN 12 MAR 2030\nFNA CAPILLARY THYROID RIGHT\n22x15x14 MM\nSLIDES 1-4 OF 4 ALCOHOL\nORUMA CLINIC',
    },
    labelBox: {
      of: (m) => m.world.texts.render(m.person.locale, `labelling.box-${boxOf(m)}`, () => ''),
      sample: 'tube',
    },
    labelSide: {
      of: (m) => (m.specimen ? placeAloud(m) : ''),
      sample: 'THYROIDE DROITE (THYROID RIGHT)',
    },
    // With its day where that is another one: a label that was written the next morning asks nobody to stay till noon.
    watchUntil: { of: (m) => whenWords(m, m.person, watchOver(m)), sample: '25 MAR 11:42' },
    watchWhy: {
      of: (m) => {
        const why = watchOf(m).because[0];
        return why ? ` (${m.world.texts.render(m.person.locale, `aftercare.why-${why}`, () => '')})` : '';
      },
      sample: ' (inside of lump not known)',
    },
  },
};
