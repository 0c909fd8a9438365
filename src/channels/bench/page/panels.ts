/** The cards of the desk: which ones lie open, the register that opens them, and the way to each by keyboard. */
import type { Urgency } from './contract.ts';
import { byId, el, unseen } from './dom.ts';
import { urgencyMark } from './urgency.ts';
import type { Say } from './words.ts';

export interface Panel {
  readonly id: string;
  /** Opens it together with Alt and Shift: a digit or a letter; '' = none. */
  readonly key: string;
  readonly box: HTMLElement;
  readonly name: string;
  /** A second line of the register. */
  readonly about: string;
  /** Where the keyboard goes when the panel is opened by it. */
  focus(): void;
  /** It lies open now, or no longer. */
  shown?(isOpen: boolean): void;
}

interface Tab {
  readonly panel: Panel;
  readonly button: HTMLButtonElement;
  readonly count: HTMLElement;
}

/** How many cards lie side by side, by the least width of the page, px. */
const rooms = [
  { from: 1700, open: 5 },
  { from: 1160, open: 4 },
  { from: 700, open: 2 },
  { from: 0, open: 1 },
] as const;

export class Panels {
  private readonly say: Say;
  private readonly tabs: Tab[] = [];
  /** Ids, the one chosen last first. */
  private recent: string[] = [];

  constructor(say: Say) {
    this.say = say;
    window.addEventListener('resize', () => this.layOut());
    document.addEventListener('keydown', (event) => this.key(event));
  }

  /** Puts a card behind the others. */
  add(panel: Panel): void {
    const count = el('span', { class: 'count' });
    const keys = panel.key === '' ? null : `Alt+Shift+${panel.key}`;
    const tab = el(
      'button',
      { type: 'button', 'aria-controls': panel.box.id, ...(keys ? { 'aria-keyshortcuts': keys, title: keys } : {}) },
      el('span', { class: 'tab-name' }, panel.name),
      el('span', { class: 'tab-about' }, panel.about),
      count,
    );
    tab.addEventListener('click', () => this.open(panel.id));
    this.tabs.push({ panel, button: tab, count });
    byId('register').append(el('li', {}, tab));
    byId('desk').append(panel.box);
    const skip = el('a', { href: `#${panel.box.id}` }, this.say('page-skip-to', { name: panel.name }));
    skip.addEventListener('click', (event) => {
      event.preventDefault();
      this.open(panel.id, true);
    });
    byId('skips').append(el('li', {}, skip));
  }

  /** Takes every card away. */
  clear(): void {
    for (const one of this.tabs) one.panel.box.remove();
    this.tabs.length = 0;
    byId('register').replaceChildren();
    byId('skips').replaceChildren();
  }

  /** Which cards to begin with, the most wanted first. */
  begin(ids: readonly string[]): void {
    this.recent = [...ids];
    this.layOut();
  }

  /** Opens a card; where there is no room the one that was chosen longest ago goes. */
  open(id: string, withFocus = false): void {
    this.recent = [id, ...this.recent.filter((one) => one !== id)];
    this.layOut();
    if (withFocus) this.tabs.find(({ panel }) => panel.id === id)?.panel.focus();
  }

  isOpen(id: string): boolean {
    return this.tabs.some(({ panel }) => panel.id === id && !panel.box.hidden);
  }

  /** Unread texts of a card and how urgent they are. */
  mark(id: string, unread: number, urgency: Urgency): void {
    const tab = this.tabs.find(({ panel }) => panel.id === id);
    if (!tab) return;
    tab.button.classList.toggle('urgent', unread > 0 && urgency === 'now');
    const mark = urgencyMark(urgency, this.say);
    const shown = unread === 0 ? [] : [...(mark ? [mark] : []), String(unread), unseen(this.say('page-unread'))];
    tab.count.replaceChildren(...shown);
  }

  /** Marks the card where the next step of a guided case is; null: none. */
  light(id: string | null): void {
    for (const { panel, button } of this.tabs) button.classList.toggle('lit-tab', panel.id === id);
  }

  private layOut(): void {
    const { open } = rooms.find(({ from }) => window.innerWidth >= from)!;
    const there = this.recent.filter((id) => this.tabs.some(({ panel }) => panel.id === id));
    const shown = new Set(there.slice(0, open));
    for (const { panel, button } of this.tabs) {
      const isOpen = shown.has(panel.id);
      const changes = panel.box.hidden === isOpen;
      panel.box.hidden = !isOpen;
      button.setAttribute('aria-pressed', String(isOpen));
      if (changes) panel.shown?.(isOpen);
    }
  }

  private key(event: KeyboardEvent): void {
    if (!event.altKey || !event.shiftKey || event.ctrlKey || event.metaKey) return;
    // Shift changes what a key writes, so the key itself counts.
    const key = /^(?:Digit|Numpad|Key)(\w)$/u.exec(event.code)?.[1];
    const tab = this.tabs.find(({ panel }) => panel.key === key);
    if (!tab) return;
    event.preventDefault();
    this.open(tab.panel.id, true);
  }
}
