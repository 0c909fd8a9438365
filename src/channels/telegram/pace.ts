/** How fast the Bot API may be used: small buckets in memory; what does not fit now goes back to the outbox. */

import { Bucket } from '../bucket.ts';

/**
 * Messages a second to everybody and to one chat, and what may go at once before that (Bot API FAQ of Telegram, "My bot is
 * hitting limits": about 30 a second in all, one a second to a chat with short bursts; from memory; the sizes of the bursts
 * are our convention).
 */
const limits = {
  all: { perSecond: 30, burst: 30, owedAtMost: 0 },
  chat: { perSecond: 1, burst: 5, owedAtMost: 0 },
} as const;

/** Chats remembered; full buckets are forgotten first. */
const mostChats = 2_000;

interface Chat {
  readonly bucket: Bucket;
  /** Not before this instant, however full: the network said so. */
  pausedUntil: number;
}

export class Pace {
  private all: Bucket | null = null;
  private readonly chats = new Map<string, Chat>();

  /**
   * Takes the room of one message. Null: it may go now; else the instant at which there will be room. An urgent text is never
   * held back by us, only by the network's own word.
   */
  take(chat: string, urgent: boolean, now: number): number | null {
    const own = this.chatOf(chat, now);
    this.all ??= new Bucket(limits.all, now);
    if (own.pausedUntil > now) return own.pausedUntil;
    const wait = Math.max(own.bucket.waitMs(now), this.all.waitMs(now));
    if (wait > 0 && !urgent) return now + wait;
    own.bucket.spend(1, now);
    this.all.spend(1, now);
    return null;
  }

  /** The network asked to wait with this chat. */
  pause(chat: string, until: number, now: number): void {
    const own = this.chatOf(chat, now);
    own.pausedUntil = Math.max(own.pausedUntil, until);
  }

  private chatOf(chat: string, now: number): Chat {
    const known = this.chats.get(chat);
    if (known) return known;
    if (this.chats.size >= mostChats) this.forget(now);
    const fresh: Chat = { bucket: new Bucket(limits.chat, now), pausedUntil: 0 };
    this.chats.set(chat, fresh);
    return fresh;
  }

  private forget(now: number): void {
    for (const [name, chat] of this.chats) {
      if (chat.bucket.isFull(now) && chat.pausedUntil <= now) this.chats.delete(name);
    }
    // Still too many at work: the oldest goes, at worst the network itself asks to wait.
    const oldest = this.chats.keys().next();
    if (this.chats.size >= mostChats && !oldest.done) this.chats.delete(oldest.value);
  }
}
