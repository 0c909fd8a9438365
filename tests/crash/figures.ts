/** Figures of the whole run, printed as one line at its end. */
import { afterAll } from 'vitest';

interface Figures {
  readonly kills: number;
  readonly answered: number;
  readonly texts: number;
  readonly doubled: number;
  readonly timers: number;
  readonly codes: number;
  readonly deaths: ReadonlyMap<string, number>;
}

const all: Figures[] = [];

/** Adds the figures of one clinic. */
export function note(figures: Figures): void {
  all.push(figures);
}

afterAll(() => {
  if (all.length === 0) return;
  const sum = (of: (one: Figures) => number): string =>
    all.reduce((total, one) => total + of(one), 0).toLocaleString('en');
  const points = new Map<string, number>();
  for (const { deaths } of all)
    for (const [point, count] of deaths) points.set(point, (points.get(point) ?? 0) + count);
  const where = [...points].map(([point, count]) => `${point} ${count}`).join(', ');
  process.stdout.write(
    `crash: ${sum((one) => one.kills)} kills, ${sum((one) => one.answered)} texts answered and kept once, ${sum((one) => one.texts)} sent at least once, ${sum((one) => one.doubled)} doubtful ones doubled, ${sum((one) => one.timers)} timers fired once, ${sum((one) => one.codes)} codes\n  (${where})\n`,
  );
});
