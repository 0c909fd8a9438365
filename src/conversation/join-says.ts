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

/**
 * What was joined says more than its question: a later one is sent beside it, never in its place. Unless it is all of one
 * question, whose screens stand or go together: half a question is misread.
 */
function joined(last: Said, next: Said, text: string): Said {
  const { subject: one, ...before } = last;
  const { subject: other, ...after } = next;
  const both = { ...before, ...after, text };
  if (one !== undefined && other !== undefined && questionOf(one) === questionOf(other)) {
    return { ...both, subject: other.endsWith(offered) ? one : other };
  }
  const replaces = [one, other, ...(last.replaces ?? []), ...(next.replaces ?? [])].filter((of) => of !== undefined);
  return { ...both, ...(replaces.length === 0 ? {} : { replaces }) };
}

/** Behind the subject of a question: what is offered with it. Asked again it is not offered again. */
export const offered = ' offer';

/** What a screen of a question, or what is offered with it, is about: that question. */
function questionOf(subject: string): string {
  return subject.endsWith(offered) ? subject.slice(0, -offered.length) : subject.replace(/ screen \d+$/u, '');
}
