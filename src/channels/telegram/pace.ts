/** How fast the Bot API may be used: small buckets in memory; what does not fit now goes back to the outbox. */

/** A bucket that fills up with time; whole thousandths of messages, so that nothing is lost to rounding. */
interface Bucket {
  thousandths: number;
  at: number;
  /** Not before this instant, however full: the network said so. */
  pausedUntil: number;
}

/**
 * Messages a second to everybody and to one chat, and what may go at once before that (Bot API FAQ of Telegram, "My bot is
 * hitting limits": about 30 a second in all, one a second to a chat with short bursts; from memory; the sizes of the bursts
 * are our convention).
 */
const limits = {
  all: { perSecond: 30, burst: 30 },
  chat: { perSecond: 1, burst: 5 },
} as const;

/** Chats remembered; full buckets are forgotten first. */
const mostChats = 2_000;

/** One message, in thousandths. */
const message = 1000;

type Limit = (typeof limits)[keyof typeof limits];

export class Pace {
  private readonly all: Bucket = { thousandths: limits.all.burst * message, at: 0, pausedUntil: 0 };
  private readonly chats = new Map<string, Bucket>();

  /**
   * Takes the room of one message. Null: it may go now; else the instant at which there will be room. An urgent text is never
   * held back by us, only by the network's own word.
   */
  take(chat: string, urgent: boolean, now: number): number | null {
    const own = this.chatOf(chat, now);
    fill(own, limits.chat, now);
    fill(this.all, limits.all, now);
    const paused = Math.max(own.pausedUntil, this.all.pausedUntil);
    if (paused > now) return paused;
    const wait = Math.max(waitOf(own, limits.chat), waitOf(this.all, limits.all));
    if (wait > 0 && !urgent) return now + wait;
    own.thousandths = Math.max(0, own.thousandths - message);
    this.all.thousandths = Math.max(0, this.all.thousandths - message);
    return null;
  }

  /** The network asked to wait with this chat. */
  pause(chat: string, until: number, now: number): void {
    const own = this.chatOf(chat, now);
    own.pausedUntil = Math.max(own.pausedUntil, until);
  }

  private chatOf(chat: string, now: number): Bucket {
    const known = this.chats.get(chat);
    if (known) return known;
    if (this.chats.size >= mostChats) this.forget(now);
    const fresh: Bucket = { thousandths: limits.chat.burst * message, at: now, pausedUntil: 0 };
    this.chats.set(chat, fresh);
    return fresh;
  }

  private forget(now: number): void {
    for (const [chat, bucket] of this.chats) {
      fill(bucket, limits.chat, now);
      if (bucket.thousandths >= limits.chat.burst * message && bucket.pausedUntil <= now) this.chats.delete(chat);
    }
    // Still too many at work: the oldest goes, at worst the network itself asks to wait.
    const oldest = this.chats.keys().next();
    if (this.chats.size >= mostChats && !oldest.done) this.chats.delete(oldest.value);
  }
}

/** A clock that goes back adds nothing. */
function fill(bucket: Bucket, limit: Limit, now: number): void {
  const passed = Math.max(0, now - bucket.at);
  bucket.thousandths = Math.min(limit.burst * message, bucket.thousandths + passed * limit.perSecond);
  bucket.at = now;
}

/** Milliseconds until there is room for a whole message. */
function waitOf(bucket: Bucket, limit: Limit): number {
  return Math.max(0, Math.ceil((message - bucket.thousandths) / limit.perSecond));
}
