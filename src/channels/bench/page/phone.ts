/** One simulated phone: a basic one for whoever works at the bedside, a plain sheet for the others. */
import { post } from './ask-line.ts';
import type { PhonePerson, Price } from './contract.ts';
import { button, el } from './dom.ts';
import { note } from './note.ts';
import type { Panel } from './panels.ts';
import { meterText } from './phone-meter.ts';
import { PhoneQuestions } from './phone-questions.ts';
import { PhoneScreen } from './phone-screen.ts';
import { PhoneWrite } from './phone-write.ts';
import { rolesText } from './roles.ts';
import type { Unread } from './unread.ts';
import type { Say } from './words.ts';

export interface PhoneOptions {
  readonly say: Say;
  readonly unread: Unread;
  /** Texts were read, sent or the net changed. */
  changed(): void;
  refresh(): Promise<void>;
}

interface Sent {
  readonly handled: string;
}

export class Phone implements Panel {
  readonly id: string;
  readonly key: string;
  readonly box: HTMLElement;
  readonly name: string;
  readonly about: string;
  readonly address: string;
  private readonly options: PhoneOptions;
  private readonly screen: PhoneScreen;
  private readonly questions: PhoneQuestions;
  private readonly writing: PhoneWrite;
  private readonly net: HTMLInputElement;
  private readonly meter: HTMLElement = el('p', { class: 'meter' });
  /** The next step of a guided case, where it is this phone's. */
  private readonly lit: HTMLButtonElement;
  private step = '';
  private readonly title: HTMLHeadingElement;

  constructor(person: PhonePerson, place: number, options: PhoneOptions) {
    const { say, unread } = options;
    const { name } = person;
    const isBasic = person.roles.includes('worker');
    this.options = options;
    this.id = person.address;
    this.key = place < 10 ? String(place) : '';
    this.address = person.address;
    this.name = name;
    this.about = rolesText(person.roles, say);
    this.screen = new PhoneScreen(name, { say, unread, isPaged: isBasic, seen: () => options.changed() });
    this.questions = new PhoneQuestions((reply) => {
      // The buttons of this question go: the keyboard stays at this phone.
      this.title.focus();
      void this.send(reply);
    });
    this.writing = new PhoneWrite({ say, name, hasKeys: isBasic, send: (text) => this.send(text) });
    this.lit = button('', () => this.writing.put(this.step), { class: 'lit', hidden: true });
    this.net = el('input', { type: 'checkbox', checked: true });
    this.net.addEventListener('change', () => void this.setNet(this.net.checked));
    this.title = el('h2', { tabindex: -1 }, name, ' ', el('span', { class: 'role' }, this.about));
    this.box = el(
      'section',
      {
        class: isBasic ? 'card phone basic' : 'card phone',
        id: `phone-${place}`,
        'aria-label': say('page-phone-of', { name }),
        hidden: true,
      },
      el('header', {}, this.title, this.screen.all, this.tricks(say)),
      this.screen.box,
      isBasic ? null : this.questions.box,
      this.lit,
      this.writing.box,
      this.meter,
    );
  }

  show(person: PhonePerson, price: Price | null, now: number): void {
    this.questions.show(person.questions);
    this.net.checked = person.net;
    this.box.classList.toggle('no-net', !person.net);
    this.meter.textContent = meterText(person.cost, price, this.options.say);
    // Last: what stands around it leaves it its room.
    this.screen.show(person, now);
  }

  focus(): void {
    this.writing.focus();
  }

  shown(isOpen: boolean): void {
    this.screen.setOpen(isOpen);
  }

  /** Lights the next step of a guided case; null: it is not this phone's turn. */
  light(send: string | null): void {
    this.lit.hidden = send === null;
    this.step = send ?? '';
    this.lit.replaceChildren(this.options.say('page-phone-step'), ' ', el('kbd', {}, this.step));
  }

  private tricks(say: Say): HTMLElement {
    return el(
      'details',
      { class: 'tricks' },
      el('summary', {}, say('page-network')),
      el(
        'div',
        { class: 'sheet' },
        el('label', { class: 'net' }, this.net, say('page-net-on')),
        button(say('page-send-again'), () => void this.sendAgain()),
        el('p', {}, say('page-network-about')),
      ),
    );
  }

  private async send(text: string): Promise<boolean> {
    note('');
    const answer = await post<Sent>('/send', { address: this.address, text });
    if (!answer.ok) note(answer.error ?? this.options.say('page-not-sent'));
    await this.options.refresh();
    return answer.ok;
  }

  private async sendAgain(): Promise<void> {
    const { say } = this.options;
    const answer = await post<Sent>('/send', { address: this.address, again: true });
    if (!answer.ok) return note(answer.error ?? say('page-not-sent'));
    const { handled } = answer.value;
    note(
      say(handled === 'duplicate' ? 'page-again-known' : handled === 'held' ? 'page-again-waits' : 'page-again-sent'),
    );
  }

  private async setNet(on: boolean): Promise<void> {
    const answer = await post('/net', { address: this.address, on });
    if (answer.ok) return;
    this.net.checked = !on;
    note(answer.error ?? this.options.say('page-no-line'));
  }
}
