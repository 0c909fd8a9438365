/** All that a store was told, and what of the texts in it was not so when it was said. */
import type { Case } from '../../../src/case/case.ts';
import type { CaseRecord } from '../../../src/case/events.ts';
import type { Due } from '../../../src/conversation/event.ts';
import type { ConversationState, Question } from '../../../src/conversation/state.ts';
import type { Person, Role } from '../../../src/conversation/world.ts';
import type { ChangeSet, OutboundMessage, Store } from '../../../src/line/ports.ts';
import type { Claim, Scene } from './claim.ts';
import { saidAloneIn } from './pattern.ts';
import { claims } from './table.ts';

interface Pending {
  readonly scene: Scene;
  readonly claim: Claim;
  readonly key: string;
}

export interface Untrue {
  readonly caseId: string | null;
  readonly line: string;
}

/** What belongs to one text is committed within it: a text that came twice is heard before the due rows of the first. */
const instantMs = 10_000;

export class Ledger {
  /** Texts that were not true, with the case that they were about. */
  readonly untrue: Untrue[] = [];
  /** How often each text was met. */
  readonly met = new Map<string, number>();
  private readonly people = new Map<string, Person>();
  private readonly cases = new Map<string, Case>();
  private readonly records = new Map<string, CaseRecord[]>();
  private readonly questions = new Map<string, Question>();
  private readonly states = new Map<string, ConversationState>();
  private readonly dues = new Map<string, Due>();
  private readonly texts: OutboundMessage[] = [];
  private pending: Pending[] = [];

  /** The store, with what goes into it kept. */
  watch(store: Store): Store {
    const commit: Store['commit'] = async (changes) => {
      const outcomes = await store.commit(changes);
      changes.forEach((change, index) => {
        if (outcomes[index] === 'committed') this.keep(change);
      });
      return outcomes;
    };
    const putPeople: Store['putPeople'] = async (people) => {
      for (const one of people) this.people.set(one.id, one);
      await store.putPeople(people);
    };
    return new Proxy(store, {
      get: (of, name) => {
        if (name === 'commit') return commit;
        if (name === 'putPeople') return putPeople;
        const value = Reflect.get(of, name) as unknown;
        return typeof value === 'function' ? value.bind(of) : value;
      },
    });
  }

  /** Everybody of the roster. */
  know(people: readonly Person[]): void {
    for (const one of people) this.people.set(one.id, one);
  }

  /** What was committed. A text is judged when its instant is over. */
  keep(change: ChangeSet): void {
    this.settle(change.at - instantMs);
    for (const { value, records } of change.cases) {
      this.cases.set(value.id, value);
      this.records.set(value.id, [...(this.records.get(value.id) ?? []), ...records]);
    }
    for (const { value } of change.questions) this.questions.set(value.id, value);
    for (const one of change.people) if (one.kind === 'put-person') this.people.set(one.person.id, one.person);
    if (change.conversation) this.states.set(change.conversation.personId, change.conversation.state);
    for (const { personId, frameId, name } of change.cancelDue)
      for (const [id, due] of this.dues)
        if (due.personId === personId && due.frameId === frameId && (name === null || due.name === name))
          this.dues.delete(id);
    if (change.doneDue !== null) this.dues.delete(change.doneDue);
    for (const one of change.due) this.dues.set(one.id, one);
    this.texts.push(...change.outbox);
    for (const said of change.outbox) this.judgeLater(said);
  }

  /** Judges what was said until then; everything unless a time is given. */
  settle(until = Number.POSITIVE_INFINITY): void {
    const { pending } = this;
    this.pending = pending.filter(({ scene }) => scene.said.at > until);
    for (const { scene, claim, key } of pending) {
      if (scene.said.at > until) continue;
      if (claim.holds(scene)) continue;
      const { at, text, caseId } = scene.said;
      const line = `${new Date(at).toISOString()} ${key} to ${scene.to?.id ?? '-'}: "${text}" (${claim.says})`;
      this.untrue.push({ caseId, line });
    }
  }

  private judgeLater(said: OutboundMessage): void {
    for (const claim of claims) {
      for (const key of claim.keys) {
        const values = saidAloneIn(said.text, key);
        if (!values) continue;
        this.met.set(key, (this.met.get(key) ?? 0) + 1);
        this.pending.push({ scene: this.sceneOf(said, values), claim, key });
        break;
      }
    }
  }

  private sceneOf(said: OutboundMessage, values: Readonly<Record<string, string>>): Scene {
    const of = said.caseId === null ? null : (this.cases.get(said.caseId) ?? null);
    const to = said.personId === null ? null : (this.people.get(said.personId) ?? null);
    // Texts that came as one message may be of several codes.
    const own = /\d{4} ?\d{4}/u.exec(Object.values(values).join(' '))?.[0];
    const digits = (own ?? said.code ?? '').replace(/\D/gu, '');
    const questions = [...this.questions.values()];
    const about = questions.filter((one) => one.caseId === said.caseId);
    const isOpen = (one: Question): boolean => one.answeredAt === null;
    return {
      said,
      values,
      to,
      of,
      specimen: of?.specimens.find(({ code }) => code === digits) ?? of?.specimens[0] ?? null,
      records: of === null ? [] : [...(this.records.get(of.id) ?? [])],
      questions: about,
      open: of === null ? [] : about.filter(isOpen),
      askedHere: questions.filter((one) => isOpen(one) && to !== null && one.askedOf.includes(to.id)),
      waiting: [...this.dues.values()].filter((one) => one.personId === (to?.id ?? '-') || one.caseId === said.caseId),
      state: to === null ? null : (this.states.get(to.id) ?? null),
      carried: [...this.cases.values()].filter(
        (one) => to !== null && one.ownerId === to.id && one.status !== 'closed',
      ),
      people: [...this.people.values()],
      toldNow: (who) => this.wasTold(said, who, said.at),
      toldWith: (who) => this.wasTold(said, who, said.at, said.at),
      told: (who) => this.wasTold(said, who, 0),
    };
  }

  private wasTold(said: OutboundMessage, who: Role | string, since: number, until = Infinity): boolean {
    const sender = said.personId === null ? null : (this.people.get(said.personId) ?? null);
    // From the newest: whoever was told was told just now, mostly.
    const found = this.texts.findLast((one) => {
      if (
        one.id === said.id ||
        one.at < since ||
        one.at > until ||
        one.personId === null ||
        one.personId === said.personId
      )
        return false;
      const person = this.people.get(one.personId);
      const meant = person !== undefined && (person.name === who || person.roles.some((role) => role === who));
      // What is of no case is about whoever is told of it; a stranger is known by the instant alone.
      const about = one.caseId !== null && one.caseId === said.caseId;
      return meant && (about || (sender === null ? one.at === said.at : one.text.includes(sender.name)));
    });
    return found !== undefined;
  }
}
