/**
 * One step in the making: a draft that flows, commands and recorders write to, turned into a `StepResult` at its end.
 * It lives inside one call of `step` and never leaves it, so that `step` stays a pure function.
 */

import { type Case, evolve, noCase, specimenOf } from '../case/case.ts';
import type { CaseEvent, CaseRecord, Json } from '../case/events.ts';
import { holdsName } from '../case/label-person.ts';
import { mayHappen } from '../case/may-happen.ts';
import type { SiteStock } from '../case/stock.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { foldToGsm7 } from '../text/gsm7.ts';
import { optionLines } from '../text/option-lines.ts';
import { screensOf } from '../text/screens.ts';
import { answerOpenQuestion } from './answer-question.ts';
import { carryOut } from './carry-out.ts';
import type { Lane, RosterChange, Said, ShownAsk, StepResult } from './effect.ts';
import type { Due, DueWhat, LineEvent } from './event.ts';
import { firstAskedAt } from './first-asked.ts';
import type { FlowQuestion } from './flow.ts';
import type { Act, Moment, Registry } from './moment.ts';
import { isAlarmAbout, ladder, type Receivers, receiversOf } from './people.ts';
import { durationOf, siteOf } from './programme.ts';
import { fewestTagDigits, mostTagDigits } from './question-tag.ts';
import { type Draw, drawFrom } from './random.ts';
import { sayScreens } from './say-screens.ts';
import { inDaytime } from './schedule.ts';
import {
  type ConversationState,
  type Frame,
  idleFrame,
  type OpenAsk,
  type Question,
  type QuestionPicture,
  type Thread,
} from './state.ts';
import { voiceFor } from './voice.ts';
import type { Address, Person, World } from './world.ts';

interface Open {
  value: Case;
  isNew: boolean;
  records: CaseRecord[];
}

export interface SayOptions {
  readonly frame: Frame | null;
  readonly caseId: string | null;
  readonly item?: string | null;
  readonly vars?: Readonly<Record<string, Json>>;
  readonly lane?: Lane;
  readonly step?: string;
  readonly ask?: ShownAsk | null;
  readonly secrets?: readonly string[];
  /** Shown with the text, at the person's address on its network; said to nobody who has none there. */
  readonly picture?: QuestionPicture;
  /** The first that this person hears of an alarm. */
  readonly first?: boolean;
  /** What it is about, if it is said again and again. */
  readonly subject?: string;
  /** Replies whose options stand each on a line of its own. */
  readonly lines?: readonly string[];
}

export class Turn {
  readonly world: World;
  readonly event: LineEvent;
  readonly registry: Registry;
  readonly draw: Draw;
  /** Whose conversation this is; null for events without a person. */
  person: Person | null;
  state: ConversationState;
  threads: Thread[];
  aboutCaseId: string | null = null;
  strangerAnswer: string | null = null;
  readonly onceKeys: string[] = [];
  /** The answer just read, for the recorders of its transition. */
  answer: Json | null = null;
  /** Something came between the person and the open question: it is repeated at the end. */
  disturbed = false;
  readonly says: Said[] = [];
  readonly stocks: SiteStock[] = [];
  private readonly open = new Map<string, Open>();
  private readonly dues: Due[] = [];
  private readonly cancels: { personId: string; frameId: string; name: string | null }[] = [];
  private readonly hurries: { personId: string; name: string; at: number }[] = [];
  private readonly asked = new Map<string, { value: Question; isNew: boolean }>();
  private readonly roster: RosterChange[] = [];
  readonly credits: { channel: string; segments: number }[] = [];
  private readonly tags: Set<string>;
  private counter = 0;

  constructor(world: World, event: LineEvent, registry: Registry) {
    this.world = world;
    this.event = event;
    this.registry = registry;
    this.draw = drawFrom(event.seed);
    this.person = world.person;
    this.state = world.conversation;
    const several = (world.person?.addresses.length ?? 0) > 1;
    if (several && event.kind !== 'due') this.state = { ...this.state, heardFrom: event.from };
    this.threads = [...world.conversation.threads];
    // Neither those of open questions nor of what was answered here lately: a late answer must not meet a new question.
    this.tags = new Set([...world.tagsInUse, ...world.questions.map((one) => one.tag)]);
    for (const value of world.cases) this.open.set(value.id, { value, isNew: false, records: [] });
  }

  get now(): number {
    return this.event.at;
  }

  nextId(kind: string): string {
    this.counter += 1;
    return `${this.event.id}:${kind}${this.counter}`;
  }

  /** The case as it stands now, with this step's changes; null when it is not at hand. */
  caseOf(id: string | null): Case | null {
    return id === null ? null : (this.open.get(id)?.value ?? null);
  }

  get cases(): readonly Case[] {
    return [...this.open.values()].map((one) => one.value);
  }

  get questions(): readonly Question[] {
    const changed = [...this.asked.values()].map((one) => one.value);
    const ids = new Set(changed.map((one) => one.id));
    return [...this.world.questions.filter((one) => !ids.has(one.id)), ...changed];
  }

  /** Appends to a case's history. `opened` with an unknown id makes the case. Throws on what may not happen to it: a bug. */
  record(caseId: string, event: CaseEvent, flow = '-'): void {
    let open = this.open.get(caseId);
    if (!open) {
      if (event.type !== 'opened') throw new Error('a case event without its case');
      open = { value: noCase(caseId, this.world.programme.id), isNew: true, records: [] };
      this.open.set(caseId, open);
    }
    const why = mayHappen(open.value, event);
    if (why !== null) throw new Error(`${event.type} may not happen: ${why}`);
    const made: CaseRecord = {
      caseId,
      sequence: open.value.sequence + 1,
      at: this.now,
      by: this.person?.id ?? 'line',
      eventId: this.event.id,
      flow,
      event,
    };
    open.records.push(made);
    open.value = evolve(open.value, made);
  }

  /** The moment as named pieces see it. */
  moment(
    frame: Frame,
    caseId: string | null,
    person: Person,
    ask: OpenAsk | null = null,
    secrets: readonly string[] = [],
  ): Moment {
    const of = this.caseOf(caseId);
    return {
      world: this.world,
      event: this.event,
      now: this.now,
      draw: this.draw,
      person,
      channel: this.addressOf(person)?.channel ?? '',
      voice: voiceFor(person, this.person, this.state.voice),
      frame,
      case: of,
      specimen: of ? specimenOf(of, frame.item) : null,
      ask,
      secrets,
      answer: this.answer,
      cases: this.cases,
      questions: this.questions,
    };
  }

  /** Text in the person's language and voice. */
  render(
    person: Person,
    key: TextKey,
    frame: Frame,
    caseId: string | null,
    secrets: readonly string[] = [],
    given: SayOptions['vars'] = {},
  ): string {
    const { values, hiding, strict } = this.registry;
    const moment = this.moment(frame, caseId, person, null, secrets);
    const lookup = (name: string): string => {
      if (strict && name in given && hiding.has(name)) throw new Error(`${key}: {${name}} hides what it was given`);
      return values.get(name)?.(moment) ?? String(frame.vars[name] ?? '');
    };
    return this.world.texts.render(person.locale, key, lookup, moment.voice);
  }

  /** Says a text to a person (usually the one whose turn it is). Joined with the text before it when both fit one screen. */
  say(person: Person, key: TextKey, options: SayOptions): Said | null {
    const { caseId, secrets = [], vars } = options;
    const frame = options.frame ?? { ...idleFrame, item: options.item ?? null };
    const shown = vars ? { ...frame, vars: { ...frame.vars, ...vars } } : frame;
    const screens = screensOf(this.render(person, key, shown, caseId, secrets, vars), this.caseOf(caseId)?.tag);
    const laid = options.lines ? screens.map((one) => optionLines(one, options.lines!)) : screens;
    return sayScreens(this, person, key, laid, { ...options, step: options.step ?? key });
  }

  /** Says words that are already a text. */
  sayText(person: Person, words: string, options: SayOptions): Said | null {
    const { picture } = options;
    const to = picture ? person.addresses.find((one) => one.channel === picture.channel) : this.addressOf(person);
    const text = foldToGsm7(this.world.texts.asDrawn(person.locale, words)); // A curly quote in somebody's words would double the price of it all.
    if (!to || text === '') return null;
    const lane = options.lane ?? 'reply';
    const of = this.caseOf(options.caseId);
    const item = options.frame?.item ?? options.item ?? null;
    const code = of && (specimenOf(of, item) ?? of.specimens[0])?.code;
    const zone = siteOf(this.world.programme, person.siteId).zone;
    const notBefore = lane === 'reminder' ? inDaytime(this.now, zone, this.world.programme.daytime) : this.now;
    const said: Said = {
      id: this.nextId('m'),
      to,
      personId: person.id,
      caseId: options.caseId,
      lane,
      text,
      flow: options.frame?.flow ?? '-',
      step: options.step ?? options.frame?.state ?? '-',
      code: code ?? null,
      ask: options.ask ?? null,
      validUntil: notBefore + durationOf(this.world.programme, `valid-${lane}`),
      notBefore,
      // Reminders come again by themselves.
      safety: lane !== 'reminder',
      ...((of !== null && holdsName(of, text)) || picture ? { hereOnly: true as const } : {}),
      ...(picture ? { picture: picture.file } : {}),
      ...(options.first ? { first: true as const } : {}),
      ...(options.subject === undefined ? {} : { subject: options.subject }),
    };
    this.says.push(said);
    if (options.caseId !== null && person.id === this.person?.id) {
      this.state = { ...this.state, lastCaseId: options.caseId };
    }
    return said;
  }

  /** Where a person is reached: where they wrote from last if that is known here, else their first address. */
  private addressOf(person: Person): Address | undefined {
    const last = person.id === this.person?.id ? this.state.heardFrom : undefined;
    const same = person.addresses.find((one) => one.channel === last?.channel && one.address === last.address);
    return same ?? person.addresses[0];
  }

  /** Says words to an address that is not a person's. */
  sayToStranger(text: string): void {
    if (this.event.kind === 'due') return;
    this.says.push({
      id: this.nextId('m'),
      to: this.event.from,
      personId: null,
      caseId: null,
      lane: 'reply',
      text,
      flow: '-',
      step: 'stranger',
      code: null,
      ask: null,
      validUntil: this.now + durationOf(this.world.programme, 'valid-reply'),
      notBefore: this.now,
      safety: false,
    });
  }

  /** An event for somebody's conversation, or for a case or question when `personId` is null. */
  post(
    personId: string | null,
    what: DueWhat,
    options: { at?: number; caseId?: string | null; name?: string; frameId?: string } = {},
  ): void {
    this.dues.push({
      id: this.nextId('d'),
      programmeId: this.world.programme.id,
      personId,
      caseId: options.caseId ?? ('caseId' in what ? what.caseId : null),
      name: options.name ?? what.kind,
      frameId: options.frameId ?? null,
      dueAt: options.at ?? this.now,
      what,
    });
  }

  /** True: this step has something more for this person at once. */
  comesAtOnce(personId: string): boolean {
    return this.dues.some((one) => one.personId === personId && one.dueAt <= this.now);
  }

  cancelTimers(frameId: string, name: string | null = null): void {
    if (!this.person) return;
    const own = this.dues.filter((one) => !(one.frameId === frameId && (name === null || one.name === name)));
    this.dues.splice(0, this.dues.length, ...own);
    this.cancels.push({ personId: this.person.id, frameId, name });
  }

  /** Texts held back while gloves were on go now. */
  releaseHeld(): void {
    if (this.person) this.hurries.push({ personId: this.person.id, name: 'held', at: this.now });
  }

  changePeople(change: RosterChange): void {
    this.roster.push(change);
    if (change.kind === 'put-person' && change.person.id === this.person?.id) this.person = change.person;
  }

  putQuestion(value: Question): void {
    const before = this.asked.get(value.id);
    const known = this.world.questions.some((one) => one.id === value.id);
    this.asked.set(value.id, { value, isNew: before ? before.isNew : !known });
  }

  /** Opens a question to the ladder: first rung now, the next ones by time. */
  openQuestion(
    spec: FlowQuestion,
    caseId: string | null,
    item: string | null,
    words = '',
    options: {
      readonly firstRungAt?: number;
      readonly firstRung?: Person;
      readonly askedBy?: string;
      readonly instead?: string;
      readonly pictures?: readonly QuestionPicture[];
    } = {},
  ): Question {
    // Nobody answers their own question while another doctor can.
    const everybody = ladder(this.world, this.now);
    const others = everybody.filter((one) => one.id !== this.person?.id);
    // Of the own alarm nobody is told who raised it: without another doctor the coordinators hear.
    const rungs = others.length > 0 || isAlarmAbout(spec.about) ? others : everybody;
    // Practice wakes nobody at night.
    const pace = this.caseOf(caseId)?.practice ? 'question' : spec.urgency;
    const urgency = this.world.programme.urgencies[pace];
    if (!urgency) throw new Error(`no urgency ${pace}`);
    // Asked later: nobody hears of it before that instant, and not at all if it is settled by then.
    const first = options.firstRungAt === undefined ? (options.firstRung ?? rungs[0] ?? null) : null;
    const question: Question = {
      id: this.nextId('q'),
      programmeId: this.world.programme.id,
      caseId,
      tag: this.freeTag(),
      about: spec.about,
      item,
      urgency: pace,
      options: spec.options,
      words,
      askedBy: options.askedBy ?? this.person?.id ?? 'line',
      openedAt: this.now,
      rung: 0,
      askedOf: first ? [first.id] : [],
      answeredAt: null,
      answeredBy: null,
      answer: null,
      promiseUntil: null,
      ...(options.instead === undefined ? {} : { instead: options.instead }),
      ...(options.pictures === undefined ? {} : { pictures: options.pictures }),
    };
    this.putQuestion(question);
    if (caseId !== null) {
      this.record(caseId, {
        type: 'doctor-asked',
        question: question.id,
        about: spec.about,
        urgency: pace,
        words,
      });
    }
    const firstAt = firstAskedAt(this.world.programme, question);
    if (first) this.post(first.id, { kind: 'ask-doctor', questionId: question.id, rung: 0 }, { caseId, at: firstAt });
    const wait = first || isAlarmAbout(spec.about) ? (urgency.climbMs[0] ?? 0) : 0;
    const at = options.firstRungAt ?? firstAt + wait;
    this.post(
      null,
      { kind: 'climb', questionId: question.id, rung: 1 },
      { caseId, at: urgency.daytime ? inDaytime(at, this.world.programme.zone, this.world.programme.daytime) : at },
    );
    return question;
  }

  /** A tag that no open question has, of at least so many digits. */
  freeTag(least = fewestTagDigits): string {
    for (let tries = 0; tries < 400 * (mostTagDigits - least + 1); tries += 1) {
      const tag = this.draw.digits(least + Math.floor(tries / 400));
      if (!this.tags.has(tag)) return this.tags.add(tag) && tag;
    }
    throw new Error('no free question tag');
  }

  /** Marks a question answered, or held by a promise, and tells whoever waits for it. */
  answerQuestion(questionId: string, answer: string, words: string): void {
    answerOpenQuestion(this, questionId, answer, words);
  }

  /** Tells everybody that a notice is for; each hears it in their own conversation. */
  notify(
    to: Receivers,
    key: TextKey,
    lane: Lane,
    caseId: string | null,
    item: string | null,
    vars: Readonly<Record<string, Json>>,
    { first = false, questionId }: { readonly first?: boolean; readonly questionId?: string } = {},
  ): void {
    const more = { ...(first ? { first: true as const } : {}), ...(questionId === undefined ? {} : { questionId }) };
    const what: DueWhat = { kind: 'tell', key, caseId, item, vars, lane, ...more };
    for (const person of receiversOf(this.world, this.caseOf(caseId), to, this.now))
      this.post(person.id, what, { caseId });
  }

  /** Carries out what a recorder wants, on behalf of a frame. Returns the frame as changed by `vars` and `item`. */
  carryOut(acts: readonly Act[], frame: Frame, caseId: string | null): { frame: Frame; caseId: string | null } {
    return carryOut(this, acts, frame, caseId);
  }

  /** Cases with what this step recorded in them. */
  get changedCases(): readonly Open[] {
    return [...this.open.values()].filter((one) => one.records.length > 0);
  }

  finish(): StepResult {
    return {
      state: this.person ? { ...this.state, threads: this.threads } : null,
      personId: this.person?.id ?? null,
      aboutCaseId: this.aboutCaseId,
      cases: this.changedCases,
      says: this.says,
      due: this.dues,
      cancelDue: this.cancels,
      hurry: this.hurries,
      questions: [...this.asked.values()],
      people: this.roster,
      stocks: this.stocks,
      strangerAnswer: this.strangerAnswer,
      credits: this.credits,
      onceKeys: this.onceKeys,
    };
  }
}
