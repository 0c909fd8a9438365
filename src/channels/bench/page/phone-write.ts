/** Where a text is written: the field, its count of messages, and on a basic phone the keys. */
import { countSegments, unitsAlone } from '../../../text/segments.ts';
import { button, el, unseen } from './dom.ts';
import type { Say } from './words.ts';

const digits = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '0'];
const textAtMost = 10_000;

export interface WriteOptions {
  readonly say: Say;
  readonly name: string;
  readonly hasKeys: boolean;
  /** Sends; true: it went out, and the field is empty again. */
  send(text: string): Promise<boolean>;
}

export class PhoneWrite {
  readonly box: HTMLElement;
  private readonly options: WriteOptions;
  private readonly field: HTMLTextAreaElement;
  private readonly counter: HTMLOutputElement;
  private readonly form: HTMLFormElement;

  constructor(options: WriteOptions) {
    const { say, name, hasKeys } = options;
    this.options = options;
    this.field = el('textarea', {
      rows: 1,
      maxlength: textAtMost,
      autocomplete: 'off',
      spellcheck: 'false',
      placeholder: say('page-write-here'),
    });
    this.counter = el('output', { class: 'count' });
    this.form = el(
      'form',
      { class: 'write' },
      el('label', {}, unseen(say('page-text-from', { name })), this.field),
      this.counter,
      hasKeys ? null : el('button', { type: 'submit', class: 'act' }, say('page-send')),
    );
    this.form.addEventListener('submit', (event) => {
      event.preventDefault();
      void this.send(this.field.value);
    });
    this.field.addEventListener('input', () => this.count());
    this.field.addEventListener('keydown', (event) => {
      if (event.key !== 'Enter' || event.shiftKey || event.isComposing) return;
      event.preventDefault();
      this.form.requestSubmit();
    });
    this.box = el('div', {}, this.form, hasKeys ? this.keys() : null);
    this.count();
  }

  /** Puts a text into the field, to be looked at before it is sent. */
  put(text: string): void {
    this.field.value = text;
    this.count();
  }

  focus(): void {
    this.field.focus();
  }

  async send(text: string): Promise<void> {
    if (await this.options.send(text)) this.put('');
  }

  private count(): void {
    const { say } = this.options;
    const { encoding, units, segments } = countSegments(this.field.value);
    const counted = say('page-count', { units, room: unitsAlone(encoding) * segments, segments });
    this.counter.textContent = encoding === 'GSM-7' ? counted : `${counted} ${say('page-wide-letters')}`;
  }

  private keys(): HTMLElement {
    const { say, name } = this.options;
    const type = (key: string): HTMLButtonElement => button(key, () => this.put(this.field.value + key));
    const erase = button(say('page-erase'), () => this.put(this.field.value.slice(0, -1)), { class: 'erase' });
    const send = button(say('page-send'), () => this.form.requestSubmit(), { class: 'act' });
    return el(
      'fieldset',
      { class: 'pad' },
      el('legend', { class: 'unseen' }, say('page-keys-of', { name })),
      ...digits.map(type),
      type('B'),
      type('?'),
      erase,
      send,
    );
  }
}
