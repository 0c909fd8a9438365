/** What the page says: a line for what was just done, and one that screen readers hear. */
import { byId } from './dom.ts';

/** Said for a screen reader while the next texts are drawn, ms: one sentence for all that came together. */
const gatheredMs = 400;
let heard: string[] = [];
let timer: number | null = null;

/** Shows a line about what was just done; an empty one takes it away. */
export function note(text: string): void {
  byId('note').textContent = text;
}

/** Has a screen reader say something, together with what else comes now. */
export function announce(text: string): void {
  heard.push(text);
  if (timer !== null) return;
  timer = window.setTimeout(() => {
    byId('heard').textContent = heard.join(' ');
    heard = [];
    timer = null;
  }, gatheredMs);
}
