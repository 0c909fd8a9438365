/** Texts to phones through a gateway on the network. Holds no conversation and waits for nobody. */

import { backoffMs } from '../../line/backoff.ts';
import { neverWentOut } from '../../line/network-fault.ts';
import type { Channel, Clock, Log, OutboundMessage, SendResult, Steady } from '../../line/ports.ts';
import { errorCode } from '../../text/error-code.ts';
import { countSegments } from '../../text/segments.ts';
import { splitIntoSegments } from '../../text/split.ts';
import { mayWriteTo, type Prefixes } from './addresses.ts';
import type { LinkClock } from './link-clock.ts';
import type { GatewayMapping } from './mapping.ts';
import { type Account, type HttpRequest, sendRequest } from './request.ts';
import { referenceOf } from './secrets.ts';

export interface SmsOptions {
  readonly mapping: GatewayMapping;
  readonly account: Account;
  readonly prefixes: Prefixes;
  readonly secrets: readonly string[];
  /** Where the gateway reaches `/sms/report`, with what it needs to be let in. */
  readonly reportUrl: string;
  readonly linkClock: LinkClock;
  readonly clock: Clock;
  readonly steady: Steady;
  readonly log: Log;
}

/** Longest wait for the gateway's answer, ms. It stands on the same machine or near. */
const answerWithinMs = 15_000;
/** Pause after a gateway that refused us as a whole (stopped, wrong account): a human has to look, ms. */
const closedPauseMs = 60_000;
/** First pause after a gateway that is busy or not there, ms; longer with each further fault. */
const shortPauseMs = 2_000;
/** Faults in a row after which the gateway is left alone for a while, so that a hanging one holds up nothing else. */
const faultsAtMost = 3;
const breakMs = 10_000;
/** A gateway that is left alone is tried by one urgent text after this time, ms. */
const probeAfterMs = 1_000;

export class SmsChannel implements Channel {
  readonly name = 'sms';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = true;
  readonly prepaid = true;
  private readonly options: SmsOptions;
  private faults = 0;
  /** Steady instants: when the gateway failed last, and until when it is left alone. */
  private failedAt = Number.NEGATIVE_INFINITY;
  private restsUntil = Number.NEGATIVE_INFINITY;
  private probing = false;

  constructor(options: SmsOptions) {
    this.options = options;
  }

  clockOffsetMs(): number | null {
    return this.options.linkClock.offsetMs();
  }

  /** Hands one text to the gateway. Several parts go one after the other; the first that is not taken decides. */
  async send(message: OutboundMessage): Promise<SendResult> {
    const { prefixes, steady } = this.options;
    if (!mayWriteTo(message.to.address, prefixes)) return { kind: 'refused', why: 'not-allowed' };
    const restMs = this.restsUntil - steady();
    if (restMs <= 0) return this.sendParts(message);
    const mayProbe = message.lane === 'sos' && !this.probing && steady() - this.failedAt >= probeAfterMs;
    if (!mayProbe) return { kind: 'later', waitMs: restMs, why: 'gateway-rests' };
    this.probing = true;
    return this.sendParts(message).finally(() => {
      this.probing = false;
    });
  }

  private async sendParts(message: OutboundMessage): Promise<SendResult> {
    let result: SendResult = { kind: 'refused', why: 'empty' };
    for (const [index, part] of this.partsOf(message).entries()) {
      const before = result;
      result = await this.sendPart(message, part);
      if (result.kind === 'sent') continue;
      // A part is out already: the whole must not be sent again as if nothing were.
      return index > 0 && before.kind === 'sent' ? { kind: 'unsure', why: 'some-parts' } : result;
    }
    return result;
  }

  private partsOf(message: OutboundMessage): readonly string[] {
    const { joins, partsAtMost } = this.options.mapping.send;
    const whole = joins && countSegments(message.text).segments <= partsAtMost;
    return whole ? [message.text] : splitIntoSegments(message.text, { numbered: true });
  }

  private async sendPart(message: OutboundMessage, text: string): Promise<SendResult> {
    const { mapping, account, secrets, reportUrl, clock } = this.options;
    const reference = referenceOf(message.id, secrets);
    const hole = `${mapping.report.status}=${mapping.report.statusHole}`;
    const joint = reportUrl.includes('?') ? '&' : '?';
    const url = `${reportUrl}${joint}${mapping.report.reference}=${reference}&${hole}`;
    const part = { text, encoding: countSegments(text).encoding };
    const result = await this.call(sendRequest(mapping, account, message, part, { reference, url }, clock.now()));
    const failed = result.kind === 'later' || result.kind === 'unsure';
    if (failed) this.noteFault();
    else this.recover();
    return result;
  }

  private noteFault(): void {
    this.faults += 1;
    this.failedAt = this.options.steady();
    if (this.faults >= faultsAtMost) this.restsUntil = this.failedAt + breakMs;
  }

  private recover(): void {
    this.faults = 0;
    this.restsUntil = Number.NEGATIVE_INFINITY;
  }

  private pauseMs(): number {
    return backoffMs(this.faults + 1, shortPauseMs, closedPauseMs);
  }

  private async call(request: HttpRequest): Promise<SendResult> {
    const { mapping, log } = this.options;
    const { send } = mapping;
    try {
      const answer = await fetch(request.url, {
        method: 'POST',
        headers: request.headers,
        body: request.body,
        redirect: 'manual',
        signal: AbortSignal.timeout(answerWithinMs),
      });
      // Read to its end, so that the connection is free for the next text.
      await answer.arrayBuffer();
      if (send.taken.includes(answer.status)) return { kind: 'sent' };
      log.write('warn', 'gateway-answered', { channel: this.name, code: String(answer.status) });
      const why = `http-${answer.status}`;
      if (send.later.includes(answer.status)) {
        const busy = answer.status === 503 || answer.status === 429;
        return { kind: 'later', waitMs: busy ? this.pauseMs() : closedPauseMs, why };
      }
      return send.never.includes(answer.status) ? { kind: 'refused', why } : { kind: 'unsure', why };
    } catch (error) {
      const code = codeOf(error);
      return neverWentOut.has(code)
        ? { kind: 'later', waitMs: this.pauseMs(), why: code }
        : { kind: 'unsure', why: code };
    }
  }
}

/** The client's own code stands in the cause of what it throws. */
function codeOf(error: unknown): string {
  const cause = errorCode(error instanceof Error ? error.cause : null);
  return cause === 'unknown' ? errorCode(error) : cause;
}
