/** The first card: what this is, where to begin, the patient and the next step. */
import { button, el } from './dom.ts';
import type { Panel } from './panels.ts';
import { type ScenarioState, showTraining, type TrainingActions } from './training.ts';
import type { Say } from './words.ts';

export interface GuideActions extends TrainingActions {
  /** Free use: to the phone with which a case begins. */
  free(): void;
  /** Everything anew, after a question back. */
  reset(): void;
}

export class Guide implements Panel {
  readonly id = 'guide';
  readonly key = 'B';
  readonly name: string;
  readonly about: string;
  readonly box: HTMLElement;
  private readonly title: HTMLHeadingElement;
  private readonly training = el('div', { class: 'training' });
  private readonly actions: GuideActions;
  private readonly help: HTMLDetailsElement;

  constructor(say: Say, actions: GuideActions) {
    this.actions = actions;
    this.name = say('page-guide');
    this.about = say('page-guide-about');
    this.title = el('h2', { tabindex: -1 }, this.name);
    this.help = helpSheet(say);
    this.box = el(
      'section',
      { class: 'card guide', id: 'guide', 'aria-label': this.name, hidden: true },
      this.title,
      el('p', { class: 'what-this-is' }, say('page-what-this-is')),
      this.training,
      el(
        'div',
        { class: 'row' },
        button(say('page-free-use'), () => actions.free(), { class: 'free' }),
        button(say('page-reset'), () => actions.reset(), { class: 'reset' }),
      ),
      this.help,
    );
  }

  /** Shows what may be written. */
  openHelp(): void {
    this.help.open = true;
  }

  focus(): void {
    this.title.focus();
  }

  show(scenario: ScenarioState | null, words: Readonly<Record<string, string>>): void {
    this.box.classList.toggle('in-scenario', scenario !== null);
    showTraining(this.training, scenario, this.actions, words);
  }
}

/** What to write, for free use. */
function helpSheet(say: Say): HTMLDetailsElement {
  const lines = (['worker', 'doctor', 'lab', 'keys', 'net', 'clock'] as const).map((one) =>
    el('li', {}, say(`page-help-${one}`)),
  );
  return el('details', { class: 'help' }, el('summary', {}, say('page-help')), el('ul', {}, ...lines));
}
