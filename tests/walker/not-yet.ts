import { shipped } from '../support/shipped.ts';
import type { Walked } from './transcript.ts';
import { wayOf } from './ways.ts';

/**
 * What the product is known to break still, by name: counted and printed, not yet demanded. A name leaves this list with
 * the change that mends it.
 */
export const notYet: readonly string[] = [];

/** The same for one fault among all that an invariant sees; it leaves the list with the change that mends it. */
export interface KnownFault {
  readonly what: string;
  /** Name of the invariant that sees it. */
  readonly name: string;
  readonly is: (walked: Walked, line: string) => boolean;
}

const wholeTexts = 'no text is over its limit or has an empty name, side or size';

export const knownFaults: readonly KnownFault[] = [
  {
    what: 'the mark of practice makes a text longer than one segment',
    name: wholeTexts,
    is: ({ of }, line) => of.practice && /^2 segments/.test(line),
  },
  {
    what: 'that glass of no use waits is told the doctor in two segments, where the name of the site is long',
    name: wholeTexts,
    is: (_of, line) => line.includes(shipped.texts.render('en', 'duty.waits-lab-cannot-use', () => '')),
  },
  {
    what: 'a doctor is said to be asked where nobody is on the line, by an empty name',
    name: wholeTexts,
    is: ({ seed }, line) => wayOf(seed) === 'nobody' && /^a doubled blank/.test(line),
  },
];
