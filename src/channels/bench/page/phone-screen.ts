/**
 * The texts of one phone. A basic phone shows one text at a time, so that each screen of a briefing is read before the
 * next; any phone can show them all below each other.
 */
import type { PhonePerson, PhoneText } from './contract.ts';
import { button, el } from './dom.ts';
import { hourText, whenText } from './times.ts';
import type { Unread } from './unread.ts';
import { urgencyMark } from './urgency.ts';
import type { Say } from './words.ts';

export interface ScreenOptions {
  readonly say: Say;
  readonly unread: Unread;
  /** One text at a time. */
  readonly isPaged: boolean;
  /** Texts were read. */
  seen(): void;
}

export class PhoneScreen {
  readonly box: HTMLElement;
  private readonly options: ScreenOptions;
  private readonly list: HTMLOListElement;
  private readonly pager: HTMLElement;
  private readonly place: HTMLElement;
  private readonly earlier: HTMLButtonElement;
  private readonly later: HTMLButtonElement;
  /** Between one text at a time and all of them; it stands beside the name. */
  readonly all: HTMLButtonElement;
  private readonly rows = new Map<string, HTMLLIElement>();
  private texts: readonly PhoneText[] = [];
  private isPaged: boolean;
  private isOpen = false;
  /** Id of the text that is shown alone; null: none yet. */
  private shownId: string | null = null;

  constructor(name: string, options: ScreenOptions) {
    const { say } = options;
    this.options = options;
    this.isPaged = options.isPaged;
    this.list = el('ol', { class: 'texts', tabindex: 0, 'aria-label': say('page-texts-of', { name }) });
    this.place = el('span', { class: 'place' });
    this.earlier = button(say('page-earlier'), () => this.turn(-1), { class: 'earlier' });
    this.later = button(say('page-later'), () => this.turn(1), { class: 'later' });
    this.all = button('', () => this.setPaged(!this.isPaged), { class: 'all' });
    this.pager = el('div', { class: 'pager' }, this.earlier, this.place, this.later);
    this.box = el('div', { class: 'screen' }, this.list, this.pager);
    this.list.addEventListener('keydown', (event) => this.key(event));
    this.setPaged(this.isPaged);
  }

  /** Draws what is new; `now`: the time of the line. */
  show(person: PhonePerson, now: number): void {
    this.texts = person.texts;
    const ids = new Set(person.texts.map((one) => one.id));
    for (const [id, row] of this.rows) {
      if (ids.has(id)) continue;
      row.remove();
      this.rows.delete(id);
    }
    let added = false;
    for (const [at, text] of person.texts.entries()) {
      const known = this.rows.get(text.id);
      if (known && known.classList.contains('held') === text.held) continue;
      known?.remove();
      const row = this.rowOf(text, now);
      this.rows.set(text.id, row);
      this.list.insertBefore(row, this.list.children[at] ?? null);
      added = true;
    }
    if (this.options.unread.seeAnswered(person)) this.options.seen();
    if (added || this.shownId === null) this.arrive();
    this.drawPager();
  }

  /** The phone lies open: what it shows is read. */
  setOpen(isOpen: boolean): void {
    this.isOpen = isOpen;
    if (isOpen) this.arrive();
    this.drawPager();
  }

  /** Goes to the text before or after the one that is shown. */
  turn(by: 1 | -1): void {
    const next = this.texts[this.shownPlace() + by];
    if (!next) return;
    this.shownId = next.id;
    this.see();
    this.drawPager();
  }

  private shownPlace(): number {
    return this.texts.findIndex((one) => one.id === this.shownId);
  }

  /** Shows the first that is unread, one about danger before all others; else the newest. */
  private arrive(): void {
    const unread = this.texts.filter((one) => !this.options.unread.isRead(one));
    const first = unread.find((one) => one.urgency === 'now') ?? unread[0] ?? this.texts.at(-1);
    this.shownId = first?.id ?? null;
    const row = first ? this.rows.get(first.id) : undefined;
    if (!this.isPaged && row) {
      const above = row.offsetTop - this.list.offsetTop;
      this.list.scrollTop = first === this.texts.at(-1) ? this.list.scrollHeight : above;
    }
    this.see();
  }

  private see(): void {
    if (!this.isOpen) return;
    const looked = this.isPaged ? this.texts.filter((one) => one.id === this.shownId) : this.texts;
    if (this.options.unread.see(looked)) this.options.seen();
  }

  private setPaged(isPaged: boolean): void {
    const { say } = this.options;
    this.isPaged = isPaged;
    this.box.classList.toggle('paged', isPaged);
    this.all.textContent = say(isPaged ? 'page-show-all' : 'page-show-one');
    this.arrive();
    this.drawPager();
  }

  private drawPager(): void {
    const { say, unread } = this.options;
    const place = this.shownPlace();
    for (const [id, row] of this.rows) row.classList.toggle('shown', id === this.shownId);
    const newOnes = this.texts.slice(place + 1).filter((one) => !unread.isRead(one)).length;
    this.earlier.disabled = place <= 0;
    this.later.disabled = place < 0 || place >= this.texts.length - 1;
    this.later.textContent = newOnes > 0 ? say('page-later-new', { n: newOnes }) : say('page-later');
    this.later.classList.toggle('has-new', newOnes > 0);
    this.place.textContent = this.texts.length === 0 ? '' : say('page-place', { n: place + 1, of: this.texts.length });
    this.pager.hidden = this.texts.length === 0;
  }

  private rowOf(text: PhoneText, now: number): HTMLLIElement {
    const { say } = this.options;
    const time = text.held
      ? say('page-waits-for-net')
      : text.out
        ? whenText(text.at, now)
        : say('page-sent-at', { time: hourText(text.at) });
    const head = el('small', {}, urgencyMark(text.urgency, say), time);
    const kind = `${text.out ? text.urgency : 'mine'}${text.held ? ' held' : ''}`;
    return el('li', { 'data-id': text.id, class: kind }, head, text.text === '' ? say('page-empty-text') : text.text);
  }

  private key(event: KeyboardEvent): void {
    if (!this.isPaged) return;
    const by = { PageUp: -1, ArrowLeft: -1, PageDown: 1, ArrowRight: 1 }[event.key];
    if (by !== 1 && by !== -1) return;
    event.preventDefault();
    this.turn(by);
  }
}
