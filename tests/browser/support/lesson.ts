/** A case to practise, led on the page as its learner would: what is read there decides what is done next. */
import type { Locator, Page } from 'playwright-core';
import { phoneOf } from './desk.ts';
import type { Hand } from './hands.ts';

/** Nobody goes further than this until a case is closed, moves. */
const movesAtMost = 150;

/** The line answers within this, ms. */
const momentMs = 500;

export interface LeadOptions {
  readonly until?: number;
  beside?(done: number): Promise<void>;
}

export class Lesson {
  private readonly page: Page;
  private readonly hand: Hand;
  private readonly guide: Locator;
  /** What was sent for the learner or by them, in order. */
  readonly sent: string[] = [];

  constructor(page: Page, hand: Hand) {
    this.page = page;
    this.hand = hand;
    this.guide = page.getByRole('region', { name: 'Begin', exact: true });
  }

  /** Begins the guided case. */
  async beginGuided(): Promise<void> {
    await this.hand.press(this.guide.getByRole('button', { name: 'Begin: lead a patient' }));
    await this.guide.getByRole('heading', { name: 'The next step' }).waitFor();
  }

  /** Begins one of the others, by its title. */
  async beginOther(title: string): Promise<void> {
    await this.listed();
    const pick = this.page.getByRole('button', { name: 'Practise', description: title });
    // Behind a report the list lies open.
    if (!(await pick.isVisible())) await this.hand.press(this.guide.getByText('Other cases to practise'));
    await this.hand.press(pick);
    await this.guide.getByRole('heading', { name: title }).waitFor();
  }

  /**
   * Leads on until the report is there, or until so many of the learner's steps are done. `beside` is called before each
   * step with how many were done.
   */
  async lead({ until = Number.POSITIVE_INFINITY, beside }: LeadOptions = {}): Promise<void> {
    const report = this.page.getByRole('article', { name: 'Report' });
    for (let move = 0; move < movesAtMost; move += 1) {
      const done = this.sent.length;
      if (done >= until || (await report.isVisible())) return;
      await beside?.(done);
      if (await this.oneStep())
        await report
          .or(this.guide.getByText(`${done + 1} of `))
          .first()
          .waitFor();
    }
    throw new Error(`no end after ${this.sent.join(', ')}`);
  }

  /** Puts the report away. */
  async leave(): Promise<void> {
    await this.hand.open('Begin');
    await this.hand.press(this.page.getByRole('button', { name: 'To the list' }));
    await this.listed();
  }

  /** The cases to practise come after the page: until they are there nothing can be begun, and none can be looked for. */
  private async listed(): Promise<void> {
    await this.guide.getByRole('button', { name: 'Begin: lead a patient', disabled: false }).waitFor();
  }

  /** False: nothing was asked, and the clock moved on. */
  private async oneStep(): Promise<boolean> {
    const shown = this.guide.getByText('Show me the next step');
    const send = this.guide.getByRole('button', { name: 'Send it for me' });
    // What was just answered has its next question a moment later: nobody moves the clock between the two.
    await shown
      .or(send)
      .first()
      .waitFor({ timeout: momentMs })
      .catch(() => undefined);
    if (await shown.isVisible()) {
      const line = this.guide.getByText(/^Write this on the phone of/);
      if (!(await line.isVisible())) await this.hand.press(shown);
      const [, name, text] = /^Write this on the phone of ([^:]+): (.*)$/s.exec((await line.textContent()) ?? '')!;
      this.sent.push(text!);
      await this.write(name!, text!);
      return true;
    }
    if (await send.isVisible()) {
      this.sent.push((await this.guide.getByText(/^Write this on the phone of/).textContent()) ?? '');
      await this.hand.press(send);
      return true;
    }
    await this.hand.press(this.page.getByRole('button', { name: /^To the next event/ }));
    await this.page.getByText('The clock moves on.').waitFor({ state: 'hidden' });
    return false;
  }

  /** On the phone itself, whose card may have to be opened, and back to the guide. */
  private async write(name: string, text: string): Promise<void> {
    await this.hand.open(name);
    await this.hand.send(phoneOf(this.page, name).getByRole('textbox'), text);
    await this.hand.open('Begin');
  }
}
