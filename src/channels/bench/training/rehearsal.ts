/** A scenario that is being played on the bench: what reached phones and what was sent go in, what is lit and judged comes out. */
import type { Texts } from '../../../conversation/texts.ts';
import type { OutboundMessage } from '../../../line/ports.ts';
import { firstWord } from '../../../text/first-word.ts';
import { foldWord } from '../../../text/fold.ts';
import { endRun, hear, say } from '../../../training/judge.ts';
import { type Facts, fillReply, type Question } from '../../../training/reply.ts';
import { type Report, reportOf } from '../../../training/report.ts';
import { beginRun, isOver, progressOf, type Run } from '../../../training/run.ts';
import type { CommentWords, Part, Reply, Scenario } from '../../../training/scenario.ts';
import type { Cast, Player } from './cast.ts';

/** A text that somebody is to send next. */
export interface NextText {
  readonly part: Part;
  readonly player: Player;
  readonly text: string;
  readonly why: string;
  /** When a person whom the bench plays sends it, ms. */
  readonly at: number;
}

export interface RehearsalOptions {
  readonly scenario: Scenario;
  readonly comments: CommentWords;
  readonly cast: Cast;
  readonly texts: Pick<Texts, 'words' | 'keyword' | 'months' | 'label'>;
  readonly now: number;
}

export class Rehearsal {
  readonly scenario: Scenario;
  readonly cast: Cast;
  private readonly options: RehearsalOptions;
  private run: Run;
  private code: string | null = null;
  private caseId: string | null = null;
  private ended: Report | null = null;

  constructor(options: RehearsalOptions) {
    this.options = options;
    this.scenario = options.scenario;
    this.cast = options.cast;
    this.run = beginRun(options.scenario, options.now);
  }

  get report(): Report | null {
    return this.ended;
  }

  get log(): Run['log'] {
    return this.run.log;
  }

  get progress(): ReturnType<typeof progressOf> {
    return progressOf(this.scenario, this.run);
  }

  /** What is seen at the learner's open step; empty = what the card says. */
  get scene(): string {
    const open = this.run.open[this.scenario.you];
    return open?.index == null || open.answered ? '' : this.scenario.steps[open.index]!.scene;
  }

  /** The question that waits for the learner, as a step of the way; null = none does. */
  openStep(): string | null {
    const open = this.run.open[this.scenario.you];
    return !this.ended && open && !open.answered ? open.at : null;
  }

  /** A text is on a phone. False: it has nothing to do with the run. */
  told({ to, step, flow, text, ask, caseId, code, at }: Told): boolean {
    const part = this.partOf(to.address);
    if (this.ended || !part) return false;
    if (caseId !== null) {
      this.caseId ??= caseId;
      // Another patient of the same bench.
      if (caseId !== this.caseId) return false;
      this.code = code?.replace(/\D/g, '') || this.code;
    }
    const { locale } = this.cast.players[part]!;
    const options = (ask?.options ?? []).map(({ reply, id }) => ({
      reply,
      id,
      words: ask ? this.options.texts.words(locale, ask.field, id) : [],
    }));
    const before = this.run;
    const told = { at, part, step: askedBy(flow, step), asks: ask !== null, text, kind: ask?.kind ?? null, options };
    this.run = hear(this.run, this.options, told);
    return this.run !== before;
  }

  /** Somebody sent a text. */
  sent(address: string, text: string, at: number): boolean {
    const part = this.partOf(address);
    if (this.ended || !part) return false;
    const { locale } = this.cast.players[part]!;
    const keyword = this.options.texts.keyword(locale, foldWord(firstWord(text) || text.trim()));
    const before = this.run;
    this.run = say(this.run, this.options, { at, part, text, keyword }, this.factsAt(at));
    if (isOver(this.scenario, this.run)) this.end(at);
    return this.run !== before;
  }

  /** Ends the run; what never came was missed. */
  end(now: number): Report {
    if (!this.ended) {
      this.run = endRun(this.run, this.options, now);
      this.ended = reportOf(this.scenario, this.run);
    }
    return this.ended;
  }

  /** What the learner is to send now; null = nothing is asked of them. */
  nextOf(now: number): NextText | null {
    return this.ended ? null : this.nextBy(this.scenario.you, now);
  }

  /** What others are to send, the first one first. */
  others(now: number): readonly NextText[] {
    if (this.ended) return [];
    return (Object.keys(this.cast.players) as Part[])
      .filter((part) => part !== this.scenario.you)
      .flatMap((part) => this.nextBy(part, now) ?? [])
      .sort((a, b) => a.at - b.at);
  }

  private nextBy(part: Part, now: number): NextText | null {
    const open = this.run.open[part];
    const player = this.cast.players[part];
    if (!open || open.answered || !player) return null;
    const step = open.index === null ? undefined : this.scenario.steps[open.index];
    const reply = step?.send ?? this.scenario.elsewhere[open.at];
    const text = reply ? this.filled(reply, step?.find ?? null, open, now) : null;
    if (text === null) return null;
    return { part, player, text, why: step?.why ?? '', at: open.askedAt + (step?.afterMs ?? 0) };
  }

  private filled(reply: Reply, find: string | null, question: Question, now: number): string | null {
    return fillReply(reply, { find }, question, this.factsAt(now));
  }

  private factsAt(now: number): Facts {
    const { cast, texts, scenario } = this.options;
    const locale = cast.players[scenario.you]?.locale ?? 'en';
    const { patient } = scenario;
    // F is read in every language; M is not where a woman's word begins with it.
    const sex = patient.sex === 'F' ? 'F' : texts.label(locale, 'sexShort', 'male').toUpperCase();
    return { patient: { ...patient, sex }, code: this.code, now, zone: cast.zone, months: texts.months(locale) };
  }

  private partOf(address: string): Part | undefined {
    return (Object.keys(this.cast.players) as Part[]).find((part) => this.cast.players[part]!.address === address);
  }
}

export type Told = Pick<OutboundMessage, 'to' | 'step' | 'flow' | 'text' | 'ask' | 'caseId' | 'code' | 'at'>;

/** `flow.step` of a question, the key of any other text; what doctors are asked stands in their own file. */
function askedBy(flow: string, step: string): string {
  if (step.includes('.')) return step;
  return flow === '-' ? `doctor.${step}` : `${flow}.${step}`;
}
