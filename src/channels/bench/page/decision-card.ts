/** The decision as a picture, of the patient who was chosen. */
import { get } from './ask-line.ts';
import { showDecision } from './decision.ts';
import { el } from './dom.ts';
import type { Panel } from './panels.ts';
import type { Say } from './words.ts';

export class DecisionCard implements Panel {
  readonly id = 'decision';
  readonly key = 'D';
  readonly name: string;
  readonly about: string;
  readonly box: HTMLElement;
  private readonly say: Say;
  /** The card lies open from now on. */
  private readonly opened: () => void;
  private readonly title: HTMLHeadingElement;
  private readonly picture = el('div', { class: 'picture' });
  private drawn: string | null = null;

  constructor(say: Say, opened: () => void) {
    this.say = say;
    this.opened = opened;
    this.name = say('page-decision');
    this.about = say('page-decision-about');
    this.title = el('h2', { tabindex: -1 }, this.name);
    this.box = el(
      'section',
      { class: 'card decision', id: 'decision', 'aria-label': this.name, hidden: true },
      this.title,
      this.picture,
    );
    this.none();
  }

  focus(): void {
    this.title.focus();
  }

  shown(isOpen: boolean): void {
    if (isOpen) this.opened();
  }

  /** Reads the decision of a patient; null: there is none. */
  async load(caseId: string | null, words: Readonly<Record<string, string>>): Promise<void> {
    if (caseId === null) return this.none();
    const answer = await get<Parameters<typeof showDecision>[1]>(`/decision?case=${encodeURIComponent(caseId)}`);
    if (!answer.ok || !answer.value) return this.none();
    const next = JSON.stringify(answer.value);
    if (next === this.drawn) return;
    this.drawn = next;
    showDecision(this.picture, answer.value, words);
  }

  private none(): void {
    this.drawn = null;
    this.picture.replaceChildren(el('p', { class: 'empty' }, this.say('page-decision-empty')));
  }
}
