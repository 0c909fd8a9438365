/** What is said about an answer: in whole sentences, never with blame. */

import { type Facts, fillReply, idsIn } from './reply.ts';
import type { Open, Verdict } from './run.ts';
import type { Step } from './scenario.ts';
import { writeSpan } from './span.ts';
import { looksUp, type Rules, type Sent } from './told.ts';

export interface Judged {
  readonly step: Step | undefined;
  readonly open: Open | undefined;
  readonly sent: Sent;
  readonly facts: Facts;
  readonly verdict: Verdict;
}

/** The comment on a text of the learner. */
export function commentOf({ comments }: Rules, { step, open, sent, facts, verdict }: Judged): string {
  const fill = (template: string, right = ''): string =>
    filled(template, { said: sent.text, right, why: step?.why ?? '', within: span(step), took: tookOf(open, sent) });
  if (verdict === 'right') return fill(comments.right);
  if (verdict === 'late') return fill(comments.late);
  if (looksUp(sent)) return comments.help;
  if (!step || !open) {
    if (sent.keyword === 'SOS') return comments.alarm;
    return open && !open.answered ? comments.away : comments.unasked;
  }
  const said = meantBy(step, open, sent.text);
  if (said !== null) return said;
  if (sent.keyword === 'SOS') return comments.alarm;
  return fill(comments.other, fillReply(step.send, step, open, facts) ?? '');
}

/** The comment on a step that never came. */
export function missedComment({ comments }: Rules, step: Step, wasAsked: boolean): string {
  const template = wasAsked ? comments.missedAsked : comments.missedNever;
  return filled(template, { said: '', right: '', why: step.why, within: span(step), took: '' });
}

/** What this wrong answer would mean, where the scenario says it. */
function meantBy({ wrong }: Step, open: Open, text: string): string | null {
  const ids = idsIn(text, open) ?? [];
  const found = Object.entries(wrong).find(
    ([key]) => ids.includes(key) || key.toUpperCase() === text.trim().toUpperCase(),
  );
  return found?.[1] ?? null;
}

const span = (step: Step | undefined): string => (step?.withinMs == null ? '' : writeSpan(step.withinMs));
const tookOf = (open: Open | undefined, sent: Sent): string => (open ? writeSpan(sent.at - open.askedAt) : '');

function filled(template: string, places: Readonly<Record<string, string>>): string {
  return template
    .replace(/\{(\w+)\}/g, (all, place: string) => places[place] ?? all)
    .replace(/ {2,}/g, ' ')
    .trim();
}
