/**
 * Weeks of pregnancy from which nobody is laid flat on the back: the womb presses on the great vein, symptoms come 3 to 10 min after lying
 * down (anaesthesia textbook, caval compression). Tilted to the left, or half sitting; a faint is turned fully to the left side.
 */
export const TILT_FROM_WEEKS = 20;

/** How a patient lies for the needle. `belly`: weeks unknown, so a big belly decides at the bedside. */
export type Position = 'flat' | 'tilted' | 'belly';

/** Weeks null = pregnant, and nobody knows how long. */
export function positionOf(pregnant: boolean, weeks: number | null): Position {
  if (!pregnant) return 'flat';
  if (weeks === null) return 'belly';
  return weeks >= TILT_FROM_WEEKS ? 'tilted' : 'flat';
}
