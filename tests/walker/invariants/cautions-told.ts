import type { Recorded, Said, Walked } from '../transcript.ts';
import { type Invariant, recordsOf } from './invariant.ts';
import { saysOneOf } from './words-told.ts';

/** What each of the systems says stands there already. */
const saidOtherwise: ReadonlySet<string> = new Set(['policies-disagree']);

/** Every caution of the decision that stands when a code is given was read at the clinic before, whatever day it is of. */
export const cautionsTold: Invariant = {
  name: 'every caution of the decision was told before the needle',
  broken: (walked) => {
    const found = recordsOf(walked).flatMap((issued, index, all) => {
      if (issued.record.event.type !== 'code-issued') return [];
      const decided = all.slice(0, index).findLast(({ record }) => record.event.type === 'decided');
      const read = textsBefore(walked, issued);
      return cautionsOf(decided)
        .filter((one) => !saidOtherwise.has(one) && !saysOneOf([`decision.caution-${one}`], read))
        .map((one) => `nobody was told ${one}`);
    });
    return [...new Set(found)];
  },
};

function cautionsOf(decided: Recorded | undefined): readonly string[] {
  const event = decided?.record.event;
  if (event?.type !== 'decided') return [];
  return (event.assessment as { readonly cautions?: readonly string[] } | null)?.cautions ?? [];
}

/** All that workers were told of this case before, as one text. */
const textsBefore = ({ entries, of }: Walked, issued: Recorded): string =>
  entries
    .slice(0, entries.indexOf(issued))
    .filter((one): one is Said => one.kind === 'said' && one.role === 'worker' && one.caseId === of.id)
    .map(({ text }) => text)
    .join(' ');
