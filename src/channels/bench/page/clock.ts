/** The clock of the line: what comes next as the one big button, other ways forward behind it. */
import { post } from './ask-line.ts';
import { clockFace } from './clock-face.ts';
import type { BenchState } from './contract.ts';
import { button, byId, el } from './dom.ts';
import { note } from './note.ts';
import type { Store } from './state.ts';
import { dayText, hourText, whenText } from './times.ts';
import type { Say } from './words.ts';

interface Moved {
  readonly moved: boolean;
  /** The question for which the clock stopped before its goal. */
  readonly stoppedFor: { readonly name: string; readonly address: string; readonly title: string } | null;
  readonly came: readonly Came[];
}

/** Texts that reached one phone on the way. */
interface Came {
  readonly name: string;
  readonly texts: number;
}

const minute = 60_000;

export class Clock {
  private readonly store: Store;
  private readonly say: Say;
  private readonly stopped: (address: string) => void;
  private readonly face = clockFace();
  private readonly hour = el('span', { class: 'hour' });
  private readonly day = el('span', { class: 'day' });
  private readonly next: HTMLButtonElement;
  private readonly what = el('span', { class: 'what' });
  private readonly minutes: HTMLInputElement;
  private readonly controls: readonly (HTMLButtonElement | HTMLInputElement)[];

  /** `stopped`: the clock stopped for a question on this phone. */
  constructor(store: Store, say: Say, stopped: (address: string) => void) {
    this.store = store;
    this.say = say;
    this.stopped = stopped;
    this.next = button('', () => void this.move({ next: true }), {
      class: 'act next',
      id: 'next',
      'aria-keyshortcuts': 'Alt+Shift+N',
    });
    this.next.append(el('span', { class: 'go' }, say('page-to-next')), this.what);
    const by = (label: string, ms: number): HTMLButtonElement =>
      button(label, () => void this.move({ ms }), { 'data-ms': ms });
    const steps = [
      by(say('page-ten-minutes'), 10 * minute),
      by(say('page-one-hour'), 60 * minute),
      by(say('page-one-day'), 24 * 60 * minute),
    ];
    this.minutes = el('input', { type: 'number', min: 1, max: 576_000, value: 20, required: true, id: 'minutes' });
    const go = el('button', { type: 'submit' }, say('page-move'));
    const exact = el('form', {}, el('label', {}, say('page-by-minutes'), ' ', this.minutes), go);
    exact.addEventListener('submit', (event) => {
      event.preventDefault();
      void this.move({ ms: Number(this.minutes.value) * minute });
    });
    this.controls = [this.next, ...steps, this.minutes, go];
    const more = el(
      'details',
      { class: 'tricks more-time' },
      el('summary', {}, say('page-more-time')),
      el('div', { class: 'sheet' }, ...steps, exact, el('p', {}, say('page-clock-about'))),
    );
    const time = el(
      'p',
      { class: 'time', id: 'now', 'aria-label': say('page-time-of-line') },
      this.hour,
      ' ',
      this.day,
    );
    byId('clock').replaceChildren(this.face.box, time, this.next, more);
    document.addEventListener('keydown', (event) => {
      if (!event.altKey || !event.shiftKey || event.code !== 'KeyN') return;
      event.preventDefault();
      this.next.click();
    });
    setInterval(() => this.tick(), 1000);
  }

  /** Says what comes next. */
  show({ next }: BenchState): void {
    this.what.textContent = next
      ? this.say('page-clock-event', { time: whenText(next.at, this.store.now()), what: next.what })
      : this.say('page-nothing-due');
    this.tick();
  }

  private tick(): void {
    const at = this.store.now();
    this.hour.textContent = hourText(at);
    this.day.textContent = dayText(at);
    this.face.turn(at);
  }

  private async move(how: { readonly ms: number } | { readonly next: true }): Promise<void> {
    const { store, say } = this;
    const hadFocus = document.activeElement;
    note(say('page-clock-moves'));
    for (const one of this.controls) one.disabled = true;
    const answer = await post<Moved>('/clock', how);
    await store.refresh();
    for (const one of this.controls) one.disabled = false;
    if (hadFocus instanceof HTMLElement) hadFocus.focus();
    if (!answer.ok) return note(answer.error ?? say('page-no-line'));
    if (!answer.value.moved) return note(say('page-nothing-due'));
    const { stoppedFor, came } = answer.value;
    if (stoppedFor) this.stopped(stoppedFor.address);
    const why = stoppedFor ? [say('page-stopped-for', { name: stoppedFor.name, title: stoppedFor.title })] : [];
    note([...why, cameText(came, say)].join(' '));
  }
}

/** `Texts that came: 27 (Ada Lumo 20, Dr Tano 7).` */
function cameText(came: readonly Came[], say: Say): string {
  const all = came.reduce((sum, { texts }) => sum + texts, 0);
  if (all === 0) return say('page-nothing-came');
  return say('page-texts-came', { n: all, whom: came.map(({ name, texts }) => `${name} ${texts}`).join(', ') });
}
