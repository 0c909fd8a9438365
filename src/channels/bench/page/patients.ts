/** The card of all patients: each with its strip, the newest first. */
import type { CaseStrip } from '../strip/strip.ts';
import { el } from './dom.ts';
import type { Panel } from './panels.ts';
import { showStrip } from './strip.ts';
import type { Say } from './words.ts';

export class Patients implements Panel {
  readonly id = 'patients';
  readonly key = 'P';
  readonly name: string;
  readonly about: string;
  readonly box: HTMLElement;
  private readonly title: HTMLHeadingElement;
  private readonly strips = el('div', {});

  constructor(say: Say) {
    this.name = say('page-patients');
    this.about = say('page-patients-about');
    this.title = el('h2', { tabindex: -1 }, this.name);
    this.box = el(
      'section',
      { class: 'card patients', id: 'patients', 'aria-label': this.name, hidden: true },
      this.title,
      this.strips,
    );
  }

  focus(): void {
    this.title.focus();
  }

  show(cases: readonly CaseStrip[], words: Readonly<Record<string, string>>): void {
    showStrip(this.strips, cases, words);
  }
}
