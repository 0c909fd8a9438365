/** The rinse for calcitonin: said before gloves, asked after the slides, named to the laboratory. */
import { answerOf, type Specimen } from '../../case/case.ts';
import { isRinsedForCalcitonin } from '../../clinical/calcitonin-rinse.ts';
import type { Matter, Moment } from '../moment.ts';
import { laboratoryOf } from '../programme.ts';
import { listAnswer, textAnswer } from './common.ts';

/** True of a lump, never of a node, whose needle is rinsed. */
function isRinsed(moment: Moment, specimen: Specimen): boolean {
  const { assays } = laboratoryOf(moment.world.programme, moment.case!.siteId);
  return specimen.target.kind === 'nodule' && isRinsedForCalcitonin(listAnswer(moment, 'risks'), assays);
}

/** True: nobody has said yet whether the tube of this specimen is filled. */
export function isRinseOpen(moment: Moment, specimen: Specimen): boolean {
  return isRinsed(moment, specimen) && answerOf(moment.case!, 'ct-tube', specimen.id) === undefined;
}

/** What the laboratory reads of the tube; nothing where there is none. */
export function rinseNotes(moment: Moment): readonly string[] {
  const isFilled = moment.specimen !== null && textAnswer(moment, 'ct-tube', moment.specimen.id) === 'filled';
  return isFilled ? [moment.world.texts.render(moment.person.locale, 'posting.ct-tube', () => '')] : [];
}

export const calcitoninRinse: Matter = {
  values: {
    rinseHow: {
      of: (m) =>
        m.specimen && isRinsed(m, m.specimen)
          ? m.world.texts.render(m.person.locale, 'sampling.rinse-how', () => m.case!.tag)
          : '',
      sample: '',
    },
  },
};
