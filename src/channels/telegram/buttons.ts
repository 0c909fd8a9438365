/**
 * Buttons under a question, and what a tap on one means. Telegram keeps the buttons with their text; nothing is remembered
 * here. Where several answers may be given, a tap marks one and the arrow sends the marked ones together.
 */
import type { InlineKeyboardButton, InlineKeyboardMarkup } from 'grammy/types';
import type { ShownAsk } from '../../conversation/effect.ts';

/** What a button may carry, bytes (Bot API, InlineKeyboardButton). */
const bytesAtMost = 64;
/** Labels up to this length stand two in a row. Our convention. */
const shortLabel = 16;

const mark = '\u2713 ';
/** Sends what is marked: a sign, so that it needs no language. */
const arrow = '\u27a4';

/** Parts of what a button carries. */
const gap = '|';

type Carried =
  | { readonly kind: 'answer'; readonly token: string; readonly reply: string }
  /** Marks one of several answers, or unmarks it. */
  | { readonly kind: 'toggle'; readonly reply: string }
  /** The arrow with nothing marked yet. */
  | { readonly kind: 'nothing' };

/** The buttons of a question; null where it is answered in words, or by digits that must be read and typed. */
export function buttonsOf(ask: ShownAsk | null): InlineKeyboardMarkup | null {
  const options = (ask?.options ?? []).filter((one) => one.typed !== true);
  if (!ask || options.length === 0) return null;
  const several = ask.kind === 'choices';
  // None stands alone, whatever its number.
  const isAlone = (one: (typeof options)[number]): boolean => one.reply === '0' || one.id === 'none';
  const buttons = options.map((option): InlineKeyboardButton.CallbackButton => {
    const { reply, label } = option;
    const alone = !several || isAlone(option);
    const text = label === '' ? reply : `${reply} ${label}`;
    return { text, callback_data: alone ? answerData(ask.token, reply) : `t${gap}${reply}` };
  });
  const fits = buttons.every((one) => Buffer.byteLength(one.callback_data) <= bytesAtMost);
  if (!fits) return null;
  const rows = inRows(buttons);
  if (several && !options.every(isAlone)) {
    // The token stands in the arrow from the start, so that it need not be remembered.
    rows.push([{ text: arrow, callback_data: answerData(ask.token, '') }]);
  }
  return { inline_keyboard: rows };
}

function answerData(token: string, reply: string): string {
  return `a${gap}${token}${gap}${reply}`;
}

function inRows(buttons: readonly InlineKeyboardButton.CallbackButton[]): InlineKeyboardButton.CallbackButton[][] {
  const rows: InlineKeyboardButton.CallbackButton[][] = [];
  for (const button of buttons) {
    const last = rows.at(-1);
    const beside = last?.length === 1 && [last[0]!, button].every((one) => one.text.length <= shortLabel);
    if (beside) last.push(button);
    else rows.push([button]);
  }
  return rows;
}

/** What a tapped button carries; null for buttons that this line never made. */
export function carriedBy(data: string): Carried | null {
  const [kind, token = '', reply] = data.split(gap);
  if (kind === 't' && /^\d{1,4}$|^[A-Z]$/.test(token) && reply === undefined) return { kind: 'toggle', reply: token };
  if (kind !== 'a' || reply === undefined || !/^[\w/-]{3,40}$/.test(token)) return null;
  return reply === '' ? { kind: 'nothing' } : { kind: 'answer', token, reply };
}

/**
 * The same buttons after a tap on one of several: it is marked, or no longer, and the arrow carries what is marked now, in the
 * order of the buttons. Null when these are not such buttons.
 */
export function toggled(markup: InlineKeyboardMarkup, reply: string): InlineKeyboardMarkup | null {
  const rows = markup.inline_keyboard.map((row) =>
    row.map((button) => {
      if (!('callback_data' in button) || button.callback_data !== `t${gap}${reply}`) return button;
      const marked = button.text.startsWith(mark);
      return { ...button, text: marked ? button.text.slice(mark.length) : `${mark}${button.text}` };
    }),
  );
  const buttons = rows.flat().filter((one) => 'callback_data' in one);
  const chosen = buttons.filter((one) => one.text.startsWith(mark)).map((one) => one.callback_data.split(gap)[1] ?? '');
  // Single digits can stand together, longer replies cannot.
  const last = buttons.at(-1);
  const [kind, token] = last?.callback_data.split(gap) ?? [];
  if (!last || kind !== 'a' || token === undefined) return null;
  const sent = chosen.join(chosen.some((one) => one.length > 1) ? ' ' : '');
  const text = sent === '' ? arrow : `${arrow} ${sent}`;
  return { inline_keyboard: [...rows.slice(0, -1), [{ ...last, text, callback_data: answerData(token, sent) }]] };
}
