import type { Case } from '../../src/case/case.ts';
import { shipped } from '../support/shipped.ts';
import type { Walked } from './transcript.ts';
import { wayOf } from './ways.ts';

/**
 * What the product is known to break still, by name: counted and printed, not yet demanded. A name leaves this list with
 * the change that mends it.
 */
export const notYet: readonly string[] = [];

/** The same for one kind of text that the line cannot handle. */
export const knownCrashes: readonly { readonly what: string; readonly line: RegExp }[] = [
  {
    what: 'the end of an alarm after a needle that an alarm had ended: it looks for a state of that needle',
    line: /: (failed|parked) at sos\./,
  },
];

/** The same for one fault among all that an invariant sees; it leaves the list with the change that mends it. */
export interface KnownFault {
  readonly what: string;
  /** Name of the invariant that sees it. */
  readonly name: string;
  readonly is: (walked: Walked, line: string) => boolean;
}

const wholeTexts = 'no text is over its limit or has an empty name, side or size';

const render = (key: 'duty.waits-lab-cannot-use'): string => shipped.texts.render('en', key, () => '');
const isEmpty = (line: string): boolean => /^(an empty place|a blank before)/.test(line);

export const knownFaults: readonly KnownFault[] = [
  {
    what: 'the mark of practice makes a text longer than one segment',
    name: wholeTexts,
    is: ({ of }, line) => of.practice && /^2 segments/.test(line),
  },
  {
    what: 'that glass of no use waits is told the doctor in two segments',
    name: wholeTexts,
    is: (_of, line) => line.includes(render('duty.waits-lab-cannot-use')),
  },
  {
    what: 'a tag of more than five letters makes a text longer than one segment',
    name: wholeTexts,
    is: ({ of }, line) => of.tag.length > 5 && /^2 segments/.test(line),
  },
  {
    what: 'a question to the doctor with all its reasons has six segments',
    name: wholeTexts,
    is: (_of, line) => /^6 segments: "Q/.test(line),
  },
  {
    what: 'three targets of one day, or three fluids, are told in two segments',
    name: wholeTexts,
    is: ({ of }, line) =>
      /^2 segments/.test(line) && (of.specimens.some(({ fluids }) => fluids.length > 2) || targetsOf(of) > 2),
  },
  {
    what: 'a doctor is said to be asked where nobody is on the line, by an empty name',
    name: wholeTexts,
    is: ({ seed }, line) => wayOf(seed) === 'nobody' && /^a doubled blank/.test(line),
  },
  {
    what: 'glass that was put right while a doctor was asked is said to be of no use still, without a reason',
    name: wholeTexts,
    is: ({ entries }, line) =>
      isEmpty(line) && entries.some((one) => one.kind === 'recorded' && one.record.event.type === 'rejected'),
  },
  {
    what: 'a doctor who was away is asked on the next day about a needle that nothing stands against any more',
    name: wholeTexts,
    is: ({ of }, line) => isEmpty(line) && of.alarmAt !== null,
  },
];

/** Nodules and nodes that one needle day was planned for. */
const targetsOf = ({ decided, specimens }: Case): number => Math.max(decided?.proposed.length ?? 0, specimens.length);
