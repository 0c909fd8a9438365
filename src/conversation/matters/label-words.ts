import type { Case } from '../../case/case.ts';
import type { LabelWords } from '../../case/label.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { caseLaboratory } from '../case-laboratory.ts';
import { laboratoryPeople } from '../people.ts';
import type { Texts } from '../texts.ts';
import type { World } from '../world.ts';

/** The language that a label of the case is read in: its laboratory's; `own` where nobody there is on the line, or they differ. */
export function labelLocale(world: Pick<World, 'roster' | 'programme'>, of: Case, own: string): string {
  const readers = laboratoryPeople(world, caseLaboratory(world.programme, of).id);
  const [locale, ...others] = new Set(readers.map((one) => one.locale));
  return locale === undefined || others.length > 0 ? own : locale;
}

/** The words of a label in this language. */
export function labelWords(texts: Texts, locale: string): LabelWords {
  const word = (key: KeyIn<'labelling'>): string => texts.render(locale, `labelling.${key}`, () => '');
  return {
    name: word('label-name'),
    born: word('label-born'),
    taken: word('label-taken'),
    months: texts.months(locale),
    capillary: word('label-capillary'),
    aspiration: word('label-aspiration'),
    thyroid: word('label-thyroid'),
    node: word('label-node'),
    sides: { right: word('label-right'), left: word('label-left'), isthmus: word('label-isthmus') },
    places: { upper: word('label-upper'), lower: word('label-lower') },
    aboveCollarbone: word('label-low'),
    mm: word('label-mm'),
    fluid: word('label-fluid'),
    ml: word('label-ml'),
    looks: {
      clear: word('label-clear'),
      yellow: word('label-yellow'),
      brown: word('label-brown'),
      red: word('label-red'),
      pus: word('label-pus'),
    },
    slides: word('label-slides'),
    of: word('label-of'),
    fixations: { alcohol: word('label-alcohol'), spray: word('label-spray'), dried: word('label-dried') },
  };
}
