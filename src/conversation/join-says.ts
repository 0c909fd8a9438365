import { countSegments } from '../text/segments.ts';
import type { Said, StepResult } from './effect.ts';

/** A statement and what follows it go out as one text when both fit one screen: a segment is money. */
export function joinSays(result: StepResult): StepResult {
  const says: Said[] = [];
  for (const next of result.says) {
    const last = says.at(-1);
    const text = last ? `${last.text}\n${next.text}` : '';
    const together =
      last !== undefined &&
      last.ask === null &&
      last.lane === next.lane &&
      last.to.address === next.to.address &&
      last.to.channel === next.to.channel &&
      last.caseId === next.caseId &&
      last.picture === undefined &&
      next.picture === undefined &&
      countSegments(text).segments === 1;
    if (together) says[says.length - 1] = joined(last, next, text);
    else says.push(next);
  }
  return { ...result, says };
}

/** What was joined says more than its question: a later one is sent beside it, never in its place. */
function joined(last: Said, next: Said, text: string): Said {
  const { subject: one, ...before } = last;
  const { subject: other, ...after } = next;
  const replaces = [one, other, ...(last.replaces ?? []), ...(next.replaces ?? [])].filter((of) => of !== undefined);
  return { ...before, ...after, text, ...(replaces.length === 0 ? {} : { replaces }) };
}
