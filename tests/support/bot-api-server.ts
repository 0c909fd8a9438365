import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import type { InlineKeyboardMarkup } from 'grammy/types';

/** What goes wrong with the next call of a method. */
export type BotApiFault =
  | 'flood'
  | 'bad-gateway'
  | 'bad-gateway-page'
  | 'garbage'
  | 'dropped'
  | 'hangs'
  /** Done, and then the connection breaks before the answer. */
  | 'answer-lost'
  | 'unauthorized'
  | 'conflict'
  | 'blocked'
  | 'no-chat'
  | 'bad-buttons'
  | 'no-such-file';

export interface Called {
  readonly method: string;
  readonly payload: Readonly<Record<string, unknown>>;
}

/** A message that a chat shows. */
export interface Shown {
  readonly id: number;
  readonly chat: string;
  readonly text: string;
  /** Name of the photo that the text stands under; null = none. */
  readonly photo: string | null;
  markup: InlineKeyboardMarkup | null;
}

const errors: Readonly<Record<string, readonly [number, string]>> = {
  'bad-gateway': [502, 'Bad Gateway'],
  unauthorized: [401, 'Unauthorized'],
  conflict: [409, 'Conflict: terminated by other getUpdates request'],
  blocked: [403, 'Forbidden: bot was blocked by the user'],
  'no-chat': [400, 'Bad Request: chat not found'],
  'no-such-file': [400, 'Bad Request: wrong file identifier/HTTP URL specified'],
  'bad-buttons': [400, 'Bad Request: BUTTON_DATA_INVALID'],
};

const countedMethods: ReadonlySet<string> = new Set([
  'sendMessage',
  'sendPhoto',
  'answerCallbackQuery',
  'editMessageReplyMarkup',
]);

/** No request for updates is held longer than this, ms, whatever it asks for. */
const longestHoldMs = 1_000;

/** The part of the Bot API that the line uses, on loopback, with chats that tests can look at and faults they can order. */
export class BotApiServer {
  readonly calls: Called[] = [];
  readonly chats: Shown[] = [];
  /** Bodies of what a case causes, both ways: messages, answers to taps, changed buttons, and each update once. */
  bodyBytes = 0;
  /** Seconds that a flood answer asks to wait. */
  retryAfter = 3;
  now: () => number = Date.now;
  webhook: { url: string; secret: string } | null = null;
  private readonly faults: { method: string; fault: BotApiFault }[] = [];
  private readonly queue: { update_id: number }[] = [];
  private readonly sockets = new Set<Socket>();
  private readonly waiters = new Set<() => void>();
  private updates = 500;
  private confirmed = 0;
  private lastMessage = 0;
  private readonly server = createServer((request, response) => void this.answer(request, response));

  static async start(): Promise<BotApiServer> {
    const made = new BotApiServer();
    made.server.on('connection', (socket) => {
      made.sockets.add(socket);
      socket.on('close', () => made.sockets.delete(socket));
    });
    await new Promise<void>((resolve) => made.server.listen(0, '127.0.0.1', () => resolve()));
    return made;
  }

  get root(): string {
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}`;
  }

  async stop(): Promise<void> {
    for (const socket of this.sockets) socket.destroy();
    this.wake();
    await new Promise<void>((resolve) => this.server.close(() => resolve()));
  }

  /** The next `times` calls of this method fail so. */
  order(method: string, fault: BotApiFault, times = 1): void {
    for (let n = 0; n < times; n += 1) this.faults.push({ method, fault });
  }

  /** Somebody writes in their private chat. Gives the number of the update. */
  write(user: number, text: string, more: Readonly<Record<string, unknown>> = {}): number {
    return this.push({ message: { ...this.base(user), text, ...more } });
  }

  /** Somebody taps a button under a message, as it is shown now. */
  tap(user: number, shown: Shown, data: string): number {
    const message = { ...this.base(user), message_id: shown.id, reply_markup: structuredClone(shown.markup) };
    return this.push({
      callback_query: { id: `cb${this.updates}`, from: message.from, message, chat_instance: '1', data },
    });
  }

  /** Puts an update into the queue, with its own number or the next one. */
  push(update: Readonly<Record<string, unknown>>): number {
    if (typeof update.update_id !== 'number') this.updates += 1;
    const numbered = { update_id: this.updates, ...update };
    this.queue.push(numbered);
    this.bodyBytes += Buffer.byteLength(JSON.stringify(numbered));
    this.wake();
    return numbered.update_id;
  }

  /** The last update that was confirmed comes again, as after a fault of Telegram's own. */
  repeat(update: Readonly<Record<string, unknown>> & { readonly update_id: number }): void {
    this.confirmed = Math.min(this.confirmed, update.update_id - 1);
    this.queue.unshift(structuredClone(update));
    this.wake();
  }

  base(user: number) {
    this.lastMessage += 1;
    return {
      message_id: this.lastMessage,
      date: Math.floor(this.now() / 1000),
      chat: { id: user, type: 'private', first_name: 'X' },
      from: { id: user, is_bot: false, first_name: 'X' },
    };
  }

  pending(): number {
    return this.queue.length;
  }

  /** Resolves once this update is confirmed; rejects after `ms`. */
  async taken(update: number, ms = 10_000): Promise<void> {
    await until(() => !this.queue.some((one) => one.update_id === update), ms, 'an update was not taken');
  }

  async called(method: string, times = 1, ms = 10_000): Promise<void> {
    await until(() => this.calls.filter((one) => one.method === method).length >= times, ms, `no call of ${method}`);
  }

  /** Messages of one chat. */
  shownTo(user: number): readonly Shown[] {
    return this.chats.filter((one) => one.chat === String(user));
  }

  private wake(): void {
    for (const waiter of [...this.waiters]) waiter();
  }

  private async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const parts: Buffer[] = [];
    for await (const part of request as AsyncIterable<Buffer>) parts.push(part);
    const body = Buffer.concat(parts);
    const method = (request.url ?? '').split('/').at(-1)!;
    const payload = body.length > 0 ? (JSON.parse(body.toString()) as Record<string, unknown>) : {};
    this.calls.push({ method, payload });
    const at = this.faults.findIndex((one) => one.method === method);
    const fault = at < 0 ? null : this.faults.splice(at, 1)[0]!.fault;
    if (fault === 'dropped') return void request.socket.destroy();
    if (fault === 'hangs') return;
    if (fault === 'bad-gateway-page') return reply(response, 502, '<html>502</html>', 'text/html');
    if (fault === 'garbage') return reply(response, 200, 'hello', 'application/json');
    if (fault === 'flood') {
      const flood = { error_code: 429, description: 'Too Many Requests', parameters: { retry_after: this.retryAfter } };
      return reply(response, 429, JSON.stringify({ ok: false, ...flood }));
    }
    const error = fault === null ? undefined : errors[fault];
    if (error) {
      const said = { ok: false, error_code: error[0], description: error[1] };
      return reply(response, error[0], JSON.stringify(said));
    }
    const result = await this.does(method, payload);
    if (fault === 'answer-lost') return void request.socket.destroy();
    const text = JSON.stringify({ ok: true, result });
    if (countedMethods.has(method)) this.bodyBytes += body.length + Buffer.byteLength(text);
    reply(response, 200, text);
  }

  private async does(method: string, payload: Record<string, unknown>): Promise<unknown> {
    switch (method) {
      case 'getUpdates':
        return this.updatesFor(payload);
      case 'sendMessage':
      case 'sendPhoto':
        return this.show(payload);
      case 'editMessageReplyMarkup': {
        const shown = this.chats.find((one) => one.id === payload.message_id);
        if (shown) shown.markup = (payload.reply_markup as InlineKeyboardMarkup | undefined) ?? null;
        return true;
      }
      case 'setWebhook':
        this.webhook = { url: String(payload.url), secret: String(payload.secret_token) };
        return true;
      case 'deleteWebhook':
        this.webhook = null;
        return true;
      case 'getMe':
        return { id: 55, is_bot: true, first_name: 'Line', username: 'neckline_test_bot' };
      default:
        return true;
    }
  }

  private async updatesFor(payload: Record<string, unknown>): Promise<unknown> {
    if (typeof payload.offset === 'number') {
      this.confirmed = payload.offset;
      const left = this.queue.filter((one) => one.update_id >= this.confirmed);
      this.queue.splice(0, this.queue.length, ...left);
    }
    const holdMs = Math.min(longestHoldMs, Number(payload.timeout ?? 0) * 1000);
    if (this.queue.length === 0 && holdMs > 0) {
      await new Promise<void>((resolve) => {
        const done = (): void => {
          clearTimeout(timer);
          this.waiters.delete(done);
          resolve();
        };
        const timer = setTimeout(done, holdMs);
        this.waiters.add(done);
      });
    }
    return this.queue.slice(0, Number(payload.limit ?? 100));
  }

  private show(payload: Record<string, unknown>): unknown {
    this.lastMessage += 1;
    const markup = (payload.reply_markup as InlineKeyboardMarkup | undefined) ?? null;
    const chat = String(payload.chat_id);
    const photo = payload.photo === undefined ? null : String(payload.photo);
    const text = String(photo === null ? payload.text : payload.caption);
    this.chats.push({ id: this.lastMessage, chat, text, photo, markup });
    return {
      message_id: this.lastMessage,
      date: Math.floor(this.now() / 1000),
      chat: { id: Number(chat), type: 'private', first_name: 'X' },
      from: { id: 55, is_bot: true, first_name: 'Line' },
      text: payload.text,
      ...(markup ? { reply_markup: markup } : {}),
    };
  }
}

function reply(response: ServerResponse, status: number, body: string, type = 'application/json'): void {
  response.writeHead(status, { 'content-type': type }).end(body);
}

/** Waits for something to become true; rejects after `ms`. */
export async function until(met: () => boolean, ms = 10_000, otherwise = 'it did not happen'): Promise<void> {
  const end = Date.now() + ms;
  while (!met()) {
    if (Date.now() > end) throw new Error(otherwise);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}
