/** Takes updates in: each is given to the line, and counts as taken only once the line has stored it. */

import type { Api } from 'grammy';
import { lostToken } from '../../conversation/ask-token.ts';
import type { Line } from '../../line/line.ts';
import type { Log } from '../../line/ports.ts';
import { toggled } from './buttons.ts';
import { type Heard, readUpdate, type Tapped } from './update.ts';

/** What of the line hears. */
export type Ear = Pick<Line, 'hearText' | 'hearTap' | 'hearUnreadable'>;

export interface IntakeParts {
  /** For what may fail without harm: answers to taps, marks on buttons. */
  readonly api: Api;
  /** Number of the bot. */
  readonly bot: string;
  readonly line: Ear;
  /** Called after something was stored: there may be texts to send. */
  readonly nudge: () => void;
  readonly log: Log;
}

/** Takes one update. False: it could not be stored, and Telegram must deliver it again. */
export type Take = (update: unknown) => Promise<boolean>;

export function intakeOf(parts: IntakeParts): Take {
  const { api, line, nudge } = parts;
  const bestEffort = (call: Promise<unknown>): void => void call.catch(() => undefined);

  const answerTap = (heard: Heard & { tapped: Tapped }): void => {
    bestEffort(api.answerCallbackQuery(heard.tapped.callback));
    const { messageId, markup } = heard.tapped;
    if (messageId === null) return;
    if (heard.kind === 'tap') bestEffort(api.editMessageReplyMarkup(heard.user, messageId, {}));
    const marked = heard.kind === 'toggle' && markup ? toggled(markup, heard.reply) : null;
    if (marked) bestEffort(api.editMessageReplyMarkup(heard.user, messageId, { reply_markup: marked }));
  };

  const hear = (heard: Heard): Promise<string> | null => {
    const from = { channel: 'telegram', address: heard.user };
    switch (heard.kind) {
      case 'text':
        return line.hearText(from, heard.id, heard.text, heard.at, [], heard.quoted);
      case 'tap':
        return line.hearTap(from, heard.id, heard.token, heard.reply);
      case 'unreadable':
        return line.hearUnreadable(from, heard.id, heard.why, heard.words, heard.beside);
      case 'toggle':
        // A list so old that its buttons are not handed over cannot be marked: it is said to be old.
        return heard.tapped.markup ? null : line.hearTap(from, heard.id, lostToken, heard.reply);
      case 'idle-tap':
        return null;
    }
  };

  return async (update) => {
    const heard = readUpdate(update, parts.bot);
    if (!heard) return true;
    const handled = await hear(heard);
    if (handled === 'failed') return false;
    if ('tapped' in heard) answerTap(heard);
    if (handled !== null) nudge();
    return true;
  };
}
