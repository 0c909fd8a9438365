/** The table: dials of what runs, slides to be pencilled, the jar against the seconds, the label. */
import { formatCode } from '../../../case/code.ts';
import { get } from './ask-line.ts';
import { type Dial, dial } from './dial.ts';
import { el } from './dom.ts';
import { jarObject } from './jar.ts';
import { labelSheet } from './label-sheet.ts';
import type { Panel } from './panels.ts';
import { slideObject } from './slide.ts';
import type { Table, TableSpecimen, TableTimer } from './table.ts';
import { hourText } from './times.ts';
import type { Say } from './words.ts';

const minute = 60_000;

export class Objects implements Panel {
  readonly id = 'table';
  readonly key = 'T';
  readonly name: string;
  readonly about: string;
  readonly box: HTMLElement;
  private readonly say: Say;
  private readonly now: () => number;
  /** The card lies open from now on. */
  private readonly opened: () => void;
  private readonly title: HTMLHeadingElement;
  private readonly dials = el('div', { class: 'dials' });
  private readonly things = el('div', { class: 'things' });
  /** What was pencilled, by code and slide, and the exercise at the jar, by code: both outlive what is drawn anew. */
  private readonly written = new Map<string, string>();
  private readonly jars = new Map<string, HTMLElement>();
  private running: readonly { readonly timer: TableTimer; readonly dial: Dial }[] = [];
  private drawn = '';

  constructor(say: Say, now: () => number, opened: () => void) {
    this.say = say;
    this.opened = opened;
    this.now = now;
    this.name = say('page-table');
    this.about = say('page-table-about');
    this.title = el('h2', { tabindex: -1 }, this.name);
    this.box = el(
      'section',
      { class: 'card table', id: 'table', 'aria-label': this.name, hidden: true },
      this.title,
      this.dials,
      this.things,
    );
    setInterval(() => this.tick(), 1000);
    this.draw(null);
  }

  focus(): void {
    this.title.focus();
  }

  shown(isOpen: boolean): void {
    if (isOpen) this.opened();
  }

  /** Reads the table of a patient; null: there is none. */
  async load(caseId: string | null): Promise<void> {
    if (caseId === null) return this.draw(null);
    const answer = await get<Table>(`/table?case=${encodeURIComponent(caseId)}`);
    if (answer.ok) this.draw(answer.value);
  }

  private draw(table: Table | null): void {
    const next = JSON.stringify(table);
    if (next === this.drawn) return;
    this.drawn = next;
    const { say } = this;
    this.running = (table?.timers ?? []).map((timer) => ({
      timer,
      dial: dial(say(`page-dial-${timer.what}`, { time: hourText(timer.until) })),
    }));
    this.dials.replaceChildren(...this.running.map((one) => one.dial.box));
    this.tick();
    const specimens = table?.specimens ?? [];
    if (!table || specimens.length === 0) {
      this.things.replaceChildren(el('p', { class: 'empty' }, say('page-table-empty')));
      return;
    }
    this.things.replaceChildren(...specimens.map((one) => this.specimen(one, table.fixSeconds)));
  }

  private specimen({ code, slides, label }: TableSpecimen, seconds: number): HTMLElement {
    const { say, written } = this;
    return el(
      'div',
      { class: 'specimen' },
      el('h3', {}, say('page-slides-with', { code: formatCode(code) })),
      el('p', {}, say('page-slides-about')),
      ...slides.map((state, place) => {
        const key = `${code} ${place}`;
        const wrote = (text: string): void => void written.set(key, text);
        return slideObject({ say, number: place + 1, code, written: written.get(key) ?? '', state, wrote });
      }),
      el('h3', {}, say('page-jar')),
      el('p', {}, say('page-jar-about', { seconds })),
      this.jar(code, seconds, slides.length),
      ...(label.length > 0 ? [el('h3', {}, say('page-label')), labelSheet(label, say)] : []),
    );
  }

  private jar(code: string, seconds: number, slides: number): HTMLElement {
    const jar = this.jars.get(code) ?? jarObject({ say: this.say, seconds, slides });
    this.jars.set(code, jar);
    return jar;
  }

  private tick(): void {
    for (const { timer, dial: one } of this.running) {
      const left = timer.until - this.now();
      const words =
        left <= 0 ? this.say('page-dial-over') : this.say('page-dial-minutes', { n: Math.ceil(left / minute) });
      one.turn(left, timer.until - timer.from, words);
    }
  }
}
