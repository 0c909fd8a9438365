import type { Case } from '../../src/case/case.ts';
import type { StepResult } from '../../src/conversation/effect.ts';
import type { Due, DueWhat, LineEvent } from '../../src/conversation/event.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Registry } from '../../src/conversation/moment.ts';
import { type ConversationState, freshState, type Question } from '../../src/conversation/state.ts';
import { step } from '../../src/conversation/step.ts';
import type { Texts } from '../../src/conversation/texts.ts';
import {
  type CaseBrief,
  type Invitation,
  type Lost,
  nothingLost,
  type Person,
  type Role,
  type World,
} from '../../src/conversation/world.ts';
import { shipped as content } from './shipped.ts';

/** Monday 4 March 2030, 11:00 in the clinic. */
export const morning = Date.UTC(2030, 2, 4, 8);

/** Somebody of the roster, joined and practised, with a number of their own. */
export function person(id: string, role: Role, more: Partial<Person> = {}): Person {
  return {
    id,
    programmeId: content.programme.id,
    name: id,
    roles: [role],
    siteId: role === 'lab' ? 'velin' : 'oruma',
    locale: 'en',
    addresses: [{ channel: 'sms', address: `+00055501${id.length}${id.charCodeAt(0)}` }],
    rank: role === 'doctor' ? 1 : 0,
    state: 'joined',
    practised: true,
    shared: false,
    ...more,
  };
}

/** A small line in memory: real content and real steps, one event at a time; what is due waits until it is asked for. */
export class SmallLine {
  roster: Person[];
  readonly states = new Map<string, ConversationState>();
  readonly cases = new Map<string, Case>();
  readonly questions = new Map<string, Question>();
  readonly dues: Due[] = [];
  /** Texts by person id, in order. */
  readonly texts: { readonly to: string | null; readonly text: string }[] = [];
  invitation: Invitation | null = null;
  now = morning;
  /** The programme of this line; another one to try other places. */
  programme = content.programme;
  /** The named pieces that flows use; another set to try what a faulty one does. */
  pieces: Registry = registry;
  /** The texts that are said; others to try what a text of another shape does. */
  words: Texts = content.texts;
  restoredAt: number | null = null;
  trial = false;
  codesIssued = 0;
  lost: Lost = nothingLost;
  /** Open cases as a list names them; the store would know. */
  briefs: readonly CaseBrief[] = [];
  private events = 0;
  private quotedToken: string | null = null;

  constructor(...roster: Person[]) {
    this.roster = roster;
  }

  /** A text of a person, by id. Gives what the step caused. */
  text(from: string, text: string, networkAt: number | null = this.now): StepResult {
    const sender = this.roster.find((one) => one.id === from) ?? null;
    const address = sender?.addresses[0] ?? { channel: 'sms', address: from };
    return this.take({ ...this.base(), kind: 'text', from: address, text, networkAt }, sender);
  }

  /** A tap on a button. */
  /** Somebody replies to a message: the one with the question that this token names, or with none. */
  quote(from: string, token: string | null, text: string): StepResult {
    this.quotedToken = token;
    const result = this.text(from, text);
    this.quotedToken = null;
    return result;
  }

  tap(from: string, token: string, reply: string): StepResult {
    const sender = this.roster.find((one) => one.id === from)!;
    return this.take({ ...this.base(), kind: 'tap', from: sender.addresses[0]!, token, reply }, sender);
  }

  /** Handles what is due now for this person (or for nobody), once each. */
  settle(): void {
    for (;;) {
      const at = this.dues.findIndex((one) => one.dueAt <= this.now);
      if (at < 0) return;
      const [due] = this.dues.splice(at, 1);
      const receiver = this.roster.find((one) => one.id === due!.personId) ?? null;
      this.take({ ...this.base(), kind: 'due', due: due! }, receiver);
    }
  }

  /** Something due for a person. */
  due(personId: string | null, what: DueWhat, caseId: string | null = null): StepResult {
    const due: Due = {
      id: `due${this.events}`,
      programmeId: content.programme.id,
      personId,
      caseId,
      name: what.kind,
      frameId: null,
      dueAt: this.now,
      what,
    };
    return this.take({ ...this.base(), kind: 'due', due }, this.roster.find((one) => one.id === personId) ?? null);
  }

  /** What a person received since the last call, oldest first. */
  heard(id: string): readonly string[] {
    const mine = this.texts.filter((one) => one.to === id).map((one) => one.text);
    const others = this.texts.filter((one) => one.to !== id);
    this.texts.splice(0, this.texts.length, ...others);
    return mine;
  }

  private base() {
    this.events += 1;
    const seed = Uint8Array.from({ length: 16 }, (_, index) => (this.events * 7 + index) & 255);
    return { id: `e${this.events}`, programmeId: content.programme.id, keys: [], at: this.now, seed };
  }

  private take(event: LineEvent, who: Person | null): StepResult {
    const world: World = {
      programme: this.programme,
      flows: content.flows,
      texts: this.words,
      quick: content.quick,
      roster: this.roster,
      person: who,
      conversation: (who && this.states.get(who.id)) ?? freshState,
      cases: [...this.cases.values()],
      briefs: this.briefs,
      questions: [...this.questions.values()],
      tagsInUse: [...this.questions.values()].filter((one) => one.answeredAt === null).map((one) => one.tag),
      invitation: this.invitation,
      handedAt: {},
      reportedAt: {},
      quotedToken: this.quotedToken,
      doings: [],
      firstAidGiven: false,
      lost: this.lost,
      restoredAt: this.restoredAt,
      trial: this.trial,
      codesIssued: this.codesIssued,
      overview: null,
      stocks: [],
      strangersToday: 0,
    };
    const result = step(world, event, this.pieces);
    if (result.personId && result.state) this.states.set(result.personId, result.state);
    for (const one of result.cases) this.cases.set(one.value.id, one.value);
    for (const one of result.questions) this.questions.set(one.value.id, one.value);
    for (const { personId, frameId, name } of result.cancelDue) {
      const left = this.dues.filter(
        (one) => one.personId !== personId || one.frameId !== frameId || (name !== null && one.name !== name),
      );
      this.dues.splice(0, this.dues.length, ...left);
    }
    this.dues.push(...result.due);
    for (const one of result.says) this.texts.push({ to: one.personId, text: one.text });
    for (const change of result.people) {
      if (change.kind === 'put-person') {
        this.roster = [...this.roster.filter((one) => one.id !== change.person.id), change.person];
      } else if (change.kind === 'invite') this.invitation = change.invitation;
      else if (change.kind === 'use-invitation' && this.invitation) {
        const { wrongTries } = this.invitation;
        this.invitation = change.wrongTry
          ? { ...this.invitation, wrongTries: wrongTries + 1 }
          : { ...this.invitation, used: true };
      }
    }
    return result;
  }
}
