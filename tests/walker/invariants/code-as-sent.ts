import type { Sent } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

const byLaboratory = new Set(['received', 'read-back']);

/** What is sent is recorded at once. */
const isOfThat = (sent: Sent, at: number): boolean => sent.at <= at && at - sent.at <= 60_000;

/** What a laboratory sends with a code is recorded of the specimen that has this code. */
export const codeAsSent: Invariant = {
  name: 'what the laboratory says of a code is recorded of that specimen',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ at, by, record: { event }, after }) => {
      if (!byLaboratory.has(event.type) || !('specimen' in event)) return [];
      const sent = walked.entries.filter(
        (one): one is Sent => one.kind === 'sent' && one.by === by && isOfThat(one, at) && /\d{8}/.test(one.text),
      );
      const code = after.specimens.find(({ id }) => id === event.specimen)?.code;
      if (sent.length === 0 || sent.some(({ text }) => text.includes(code!))) return [];
      return [`${event.type} of ${code} for "${sent.map(({ text }) => text).join('", "')}"`];
    }),
};
