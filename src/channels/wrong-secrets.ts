/** Wrong secrets at a door: told apart by caller, many from one answered 429, and one line of the log for those of a minute. */
import type { IncomingMessage } from 'node:http';
import type { Log } from '../line/ports.ts';

const minuteMs = 60_000;
/** Wrong ones in a minute that a caller may show before it hears that they are too many. Our convention. */
const mostAMinute = 10;
/** Callers told apart in a minute; all others count as one. */
const callersAtMost = 1_000;

export interface WrongSecretsParts {
  /** Milliseconds of whatever clock. */
  readonly now: () => number;
  readonly log: Log;
  readonly channel: string;
}

/**
 * A right secret is never asked about here: a stranger's guesses and the gateway's calls may come by the same proxy, and
 * no guessing shuts the gateway out.
 */
export class WrongSecrets {
  private readonly parts: WrongSecretsParts;
  private readonly byCaller = new Map<string, number>();
  private since: number | null = null;
  private untold = 0;

  constructor(parts: WrongSecretsParts) {
    this.parts = parts;
  }

  /** Notes a wrong one, or none. True: there were too many from this caller within the minute. */
  note(request: IncomingMessage): boolean {
    this.tell();
    const { now, log, channel } = this.parts;
    if (this.since === null) {
      this.since = now();
      log.write('warn', `${channel}-call-refused`, { channel, code: 'secret', count: 1 });
    } else this.untold += 1;
    const from = request.socket?.remoteAddress ?? '';
    const caller = this.byCaller.has(from) || this.byCaller.size < callersAtMost ? from : '';
    const count = (this.byCaller.get(caller) ?? 0) + 1;
    this.byCaller.set(caller, count);
    return count > mostAMinute;
  }

  /** Tells how many more came within the last minute, once it is over; called with every call. */
  tell(): void {
    const { now, log, channel } = this.parts;
    const gone = this.since === null ? 0 : now() - this.since;
    // A clock that was set back ends the minute too.
    if (gone >= 0 && gone < minuteMs) return;
    if (this.untold > 0) log.write('warn', `${channel}-call-refused`, { channel, code: 'secret', count: this.untold });
    this.since = null;
    this.untold = 0;
    this.byCaller.clear();
  }
}
