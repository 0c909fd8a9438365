/** Which texts were read. Kept for the page's own session, so that reading it anew shows nothing as new. */
import type { PhonePerson, PhoneText } from './contract.ts';

const kept = 'read-texts';

export class Unread {
  private readonly read: Set<string>;

  constructor() {
    this.read = new Set(stored());
  }

  /** Texts to this phone that nobody has looked at, oldest first. */
  of(person: PhonePerson): readonly PhoneText[] {
    return person.texts.filter((one) => one.out && !this.read.has(one.id));
  }

  isRead(text: PhoneText): boolean {
    return !text.out || this.read.has(text.id);
  }

  /** Whoever writes has read what came before, and so has whoever lets it be written. Returns as `see`. */
  seeAnswered({ texts }: PhonePerson): boolean {
    return this.see(texts.slice(0, texts.findLastIndex((one) => !one.out) + 1));
  }

  /** Returns whether one of them was new. */
  see(texts: readonly PhoneText[]): boolean {
    const fresh = texts.filter((one) => !this.isRead(one));
    for (const one of fresh) this.read.add(one.id);
    if (fresh.length > 0) store([...this.read]);
    return fresh.length > 0;
  }
}

function stored(): readonly string[] {
  try {
    const value: unknown = JSON.parse(sessionStorage.getItem(kept) ?? '[]');
    return Array.isArray(value) ? value.map(String) : [];
  } catch {
    return [];
  }
}

function store(ids: readonly string[]): void {
  try {
    // Enough for all that the phones show; a full store is no reason to stop.
    sessionStorage.setItem(kept, JSON.stringify(ids.slice(-2000)));
  } catch {
    return;
  }
}
