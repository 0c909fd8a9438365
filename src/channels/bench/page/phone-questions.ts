/** The open questions of one phone: each with its choices in the words that its own text says. */
import type { OpenQuestion } from './contract.ts';
import { button, el } from './dom.ts';

/** Draws them anew where they changed, so that the keyboard stays where it is. */
export class PhoneQuestions {
  readonly box: HTMLElement = el('div', { class: 'questions' });
  private drawn = '[]';
  private readonly answer: (reply: string) => void;

  constructor(answer: (reply: string) => void) {
    this.answer = answer;
  }

  show(questions: readonly OpenQuestion[]): void {
    const next = JSON.stringify(questions);
    if (next === this.drawn) return;
    this.drawn = next;
    this.box.replaceChildren(...questions.filter(({ choices }) => choices.length > 0).map((one) => this.question(one)));
  }

  private question({ title, choices }: OpenQuestion): HTMLElement {
    return el(
      'fieldset',
      { class: 'question' },
      el('legend', {}, title),
      ...choices.map(({ reply, label }) => {
        const made = button('', () => this.answer(reply), { 'data-reply': reply });
        made.append(el('kbd', {}, reply), ` ${label}`);
        return made;
      }),
    );
  }
}
