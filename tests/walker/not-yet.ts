import type { Walked } from './transcript.ts';

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
    what: 'a tag of more than five letters makes a text longer than one segment',
    name: wholeTexts,
    is: ({ of }, line) => of.tag.length > 5 && /^2 segments/.test(line),
  },
];
