/** Texts to phones through one gateway. Holds no conversation and waits for nobody. */

import { backoffMs } from '../../line/backoff.ts';
import { neverWentOut } from '../../line/network-fault.ts';
import type { Channel, Clock, Log, OutboundMessage, SendResult, Steady } from '../../line/ports.ts';
import type { Way } from '../../line/way.ts';
import { errorCode } from '../../text/error-code.ts';
import { countSegments } from '../../text/segments.ts';
import { splitIntoSegments } from '../../text/split.ts';
import { Bucket } from '../bucket.ts';
import { mayWriteTo, type Prefixes } from './addresses.ts';
import { valueOfJson } from './call-fields.ts';
import { DayCount } from './day-count.ts';
import type { LinkClock } from './link-clock.ts';
import type { GatewayMapping, SendResultMapping } from './mapping.ts';
import { type Account, type HttpRequest, sendRequest } from './request.ts';
import { referenceOf } from './secrets.ts';

export interface SmsOptions {
  /** Of this gateway, where there are several. */
  readonly name: string;
  /** What people call it. */
  readonly label: string;
  readonly mapping: GatewayMapping;
  readonly account: Account;
  readonly prefixes: Prefixes;
  readonly secrets: readonly string[];
  /** Where the gateway reaches `/sms/report`, with what it needs to be let in. */
  readonly reportUrl: string;
  /** Segments that it takes a second, and a day; null = as many as come. */
  readonly perSecond: number | null;
  readonly perDay: number | null;
  /** The day (YYYY-MM-DD) of an instant where the programme is. */
  readonly dayOf: (now: number) => string;
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
  /** Steady instant of the first fault since a text was taken; null = the last one was taken. */
  private failsSince: number | null = null;
  private readonly pace: Bucket | null;
  private readonly today: DayCount;
  private heardAt: number | null = null;
  private handedAt: number | null = null;
  private reportedAt: number | null = null;

  constructor(options: SmsOptions) {
    this.options = options;
    const { perSecond, mapping, steady, dayOf } = options;
    const owedAtMost = mapping.send.partsAtMost;
    this.pace = perSecond ? new Bucket({ perSecond, burst: Math.max(1, perSecond), owedAtMost }, steady()) : null;
    this.today = new DayCount(dayOf);
  }

  /** A text came in by this gateway, or a report on one that it took. */
  noteCall(what: 'text' | 'report'): void {
    const now = this.options.clock.now();
    if (what === 'text') this.heardAt = now;
    else this.reportedAt = now;
  }

  /** For how long it has taken nothing that it was asked to, ms; 0 = it took the last one. */
  failsForMs(): number {
    return this.failsSince === null ? 0 : this.options.steady() - this.failsSince;
  }

  /** Since it was asked in vain for the last time, ms. */
  failedAgoMs(): number {
    return this.options.steady() - this.failedAt;
  }

  room(): { readonly free: number; readonly waitMs: number } {
    const now = this.options.steady();
    return this.pace
      ? { free: this.pace.free(now), waitMs: this.pace.waitMs(now) }
      : { free: Number.POSITIVE_INFINITY, waitMs: 0 };
  }

  isDayFull(): boolean {
    const { perDay, clock } = this.options;
    return perDay !== null && this.today.of(clock.now()).segments >= perDay;
  }

  restoreDay(_way: string, day: string, segments: number): void {
    this.today.restore(day, segments, this.options.clock.now());
  }

  /** How it does. `isDown` as whoever chooses between gateways sees it. */
  way(isDown: boolean): Way {
    const { name, label, perDay, clock } = this.options;
    const { heardAt, handedAt, reportedAt } = this;
    const day = { ...this.today.of(clock.now()), atMost: perDay };
    return { name, label, isDown, heardAt, handedAt, reportedAt, day };
  }

  clockOffsetMs(): number | null {
    return this.options.linkClock.offsetMs();
  }

  /** Hands one text to the gateway. Several parts go one after the other; the first that is not taken decides. */
  async send(message: OutboundMessage): Promise<SendResult> {
    const { prefixes, steady } = this.options;
    if (!mayWriteTo(message.to.address, prefixes)) return { kind: 'refused', why: 'not-allowed' };
    const { waitMs } = this.room();
    if (waitMs > 0 && message.lane !== 'sos') return { kind: 'later', waitMs, why: 'pace' };
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
    const { encoding, segments } = countSegments(text);
    const part = { text, encoding };
    this.pace?.spend(segments, this.options.steady());
    const result = await this.call(sendRequest(mapping, account, message, part, { reference, url }, clock.now()));
    const failed = result.kind === 'later' || result.kind === 'unsure';
    if (failed) this.noteFault();
    else this.recover();
    if (result.kind === 'sent') {
      this.handedAt = clock.now();
      this.today.add(segments, this.handedAt);
    }
    return result;
  }

  private noteFault(): void {
    this.faults += 1;
    this.failedAt = this.options.steady();
    this.failsSince ??= this.failedAt;
    if (this.faults >= faultsAtMost) this.restsUntil = this.failedAt + breakMs;
  }

  private recover(): void {
    this.faults = 0;
    this.failsSince = null;
    this.restsUntil = Number.NEGATIVE_INFINITY;
  }

  /** What a gateway says in the body of an answer that says nothing by itself. No word of it is kept: it may quote a text. */
  private resultOf(result: SendResultMapping, body: string): SendResult {
    const word = valueOfJson(body, result.status) ?? '';
    if (result.taken.includes(word)) return { kind: 'sent' };
    const why = result.never.includes(word)
      ? 'status-never'
      : result.later.includes(word)
        ? 'status-later'
        : 'status-unknown';
    this.options.log.write('warn', 'gateway-answered', { channel: this.name, code: why });
    if (why === 'status-never') return { kind: 'refused', why };
    return why === 'status-later' ? { kind: 'later', waitMs: this.pauseMs(), why } : { kind: 'unsure', why };
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
      const body = Buffer.from(await answer.arrayBuffer());
      if (send.taken.includes(answer.status)) {
        return send.result === null ? { kind: 'sent' } : this.resultOf(send.result, body.toString('utf8'));
      }
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

/** Begins `why` where the gateway's own answer to one text decided. */
export const byAnswer = /^(?:http|status)-/;

/** The client's own code stands in the cause of what it throws. */
function codeOf(error: unknown): string {
  const cause = errorCode(error instanceof Error ? error.cause : null);
  return cause === 'unknown' ? errorCode(error) : cause;
}
