/** Judges a run, purely: what reached a phone opens a step of the way, what is sent from it is held against that step. */
import { commentOf, missedComment } from './comment.ts';
import { type Facts, says } from './reply.ts';
import type { LogEntry, Open, Run, Verdict } from './run.ts';
import type { Part, Scenario } from './scenario.ts';
import { looksUp, type Rules, type Sent, type Told } from './told.ts';

/** The run after a text has reached a phone. */
export function hear(run: Run, { scenario }: Rules, told: Told): Run {
  const { part, text, kind, options } = told;
  const step = nameOf(scenario, told);
  const open = run.open[part];
  if (open?.at === step && !open.answered) {
    // A further screen, or the same question again: its time runs from the first.
    const question = told.asks ? { kind, options } : {};
    return withOpen(run, part, { ...open, ...question, text: `${open.text}\n${text}` });
  }
  const index = stepAsked(run, scenario, part, step);
  // What asks nothing and is no step of the way changes nothing.
  if (index === null && !told.asks) return run;
  const asked: Open = { index, at: step, text, kind, options, askedAt: told.at, answered: false };
  return withOpen(index === null ? run : passOver(run, scenario, part, index), part, asked);
}

/** The name by which the way knows this question: its own, or that of the one that is asked again. */
function nameOf({ steps, again }: Scenario, { step }: Told): string {
  return steps.some(({ at }) => at === step) ? step : (again[step] ?? step);
}

/** The next step of this person with that question; one behind, where it was passed over or an answer was not right. */
function stepAsked(run: Run, { steps }: Scenario, part: Part, step: string): number | null {
  const cursor = run.cursor[part] ?? 0;
  const is = (index: number): boolean => steps[index]!.part === part && steps[index]!.at === step;
  const indices = steps.map((_one, index) => index);
  const ahead = indices.find((index) => index >= cursor && is(index));
  const behind = indices.findLast((index) => index < cursor && is(index));
  if (run.astray && behind !== undefined) return behind;
  // What was passed over is asked once more by the line itself.
  return ahead ?? (behind !== undefined && run.marks[behind] === 'missed' ? behind : null);
}

/** What lies between and was never asked: left out by this programme, or missed because an answer led elsewhere. */
function passOver(run: Run, { steps, you }: Scenario, part: Part, index: number): Run {
  const cursor = run.cursor[part] ?? 0;
  const asked = run.open[part];
  const wasAsked = (at: number): boolean => asked?.index === at && !asked.answered;
  const away = run.away || (part === you && asked?.index != null && asked.index !== index && !asked.answered);
  const marks = run.marks.map((mark, at) => {
    const passed = at >= cursor && at < index && steps[at]!.part === part && mark === 'ahead';
    return passed ? (away || wasAsked(at) ? 'missed' : 'left-out') : mark;
  });
  return { ...run, marks, away };
}

/** The run after somebody has sent a text. Only what the learner sends is judged; what others send brings the way on. */
export function say(run: Run, rules: Rules, sent: Sent, facts: Facts): Run {
  const { scenario } = rules;
  const { part, at, text } = sent;
  const open = run.open[part];
  const step = open && open.index !== null && !open.answered ? scenario.steps[open.index] : undefined;
  const right = step && [step.send, ...step.also].some((reply) => says(text, reply, step, open!, facts));
  if (!step || !right) {
    const elsewhere = open && !step && !open.answered ? scenario.elsewhere[open.at] : undefined;
    if (elsewhere && says(text, elsewhere, { find: null }, open!, facts)) {
      const next = answered(run, part, open!);
      return part === scenario.you ? noted(next, at, text, 'right', rules.comments.elsewhere) : next;
    }
    if (part !== scenario.you) return run;
    const verdict: Verdict = looksUp(sent) ? 'aside' : 'other';
    return {
      ...noted(run, at, text, verdict, commentOf(rules, { step, open, sent, facts, verdict })),
      astray: true,
    };
  }
  const index = open!.index!;
  const passedOver = run.marks[index] === 'missed' && !run.astray;
  const late = step.withinMs !== null && (passedOver || at - open!.askedAt > step.withinMs);
  const verdict: Verdict = late ? 'late' : 'right';
  const next = answered({ ...run, cursor: { ...run.cursor, [part]: index + 1 } }, part, open!);
  const marks = next.marks.map((mark, one) => (one === index ? verdict : mark));
  if (part !== scenario.you) return { ...next, marks };
  const comment = commentOf(rules, { step, open, sent, facts, verdict });
  return { ...noted({ ...next, marks }, at, text, verdict, comment), astray: false, away: false };
}

/** The run at its end: what of the way never came was missed. `ended` = there is no more to come. */
export function endRun(run: Run, rules: Rules, now: number): Run {
  const { scenario } = rules;
  const asked = run.open[scenario.you];
  const missing = scenario.steps.flatMap((step, index): readonly { index: number; entry: LogEntry }[] => {
    const mark = run.marks[index];
    if (step.part !== scenario.you || (mark !== 'ahead' && mark !== 'missed')) return [];
    const wasAsked = asked?.index === index && !asked.answered;
    const comment = missedComment(rules, step, wasAsked);
    return [{ index, entry: { at: now, sent: '', verdict: 'missed', comment } }];
  });
  const marks = run.marks.map((mark, index) => (missing.some((one) => one.index === index) ? 'missed' : mark));
  return { ...run, marks, log: [...run.log, ...missing.map(({ entry }) => entry)] };
}

function answered(run: Run, part: Part, open: Open): Run {
  return withOpen(run, part, { ...open, answered: true });
}

function withOpen(run: Run, part: Part, open: Open): Run {
  return { ...run, open: { ...run.open, [part]: open } };
}

function noted(run: Run, at: number, sent: string, verdict: Verdict, comment: string): Run {
  return { ...run, log: [...run.log, { at, sent, verdict, comment }] };
}
