/** The line's own questions and their right answers, for others to ask and give: recorded, not written by hand. */
import { rmSync } from 'node:fs';
import { benchFolder } from './bench-folder.ts';
import type { Visit } from './visit.ts';
import { type Passed, WholeLine } from './whole-line.ts';

export interface AskedQuestion {
  readonly text: string;
  readonly answer: string;
}

const recorded = new Map<Visit, Promise<readonly Passed[]>>();

/** A visit as it goes on a fresh line: what is sent and what comes back. The same every time, so it is played once. */
export function recordVisit(visit: Visit): Promise<readonly Passed[]> {
  const known = recorded.get(visit) ?? playVisit(visit);
  recorded.set(visit, known);
  return known;
}

async function playVisit(visit: Visit): Promise<readonly Passed[]> {
  const folder = benchFolder();
  const line = await WholeLine.open(folder, visit, 1);
  try {
    return await line.visitOf(0, visit.questions);
  } finally {
    await line.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The questions of a visit: what came back on each text is what the next text answers. */
export async function recordQuestions(visit: Visit): Promise<readonly AskedQuestion[]> {
  const passed = await recordVisit(visit);
  return passed.slice(1).map(({ text }, index) => ({ text: passed[index]!.replies.join('\n'), answer: text }));
}
