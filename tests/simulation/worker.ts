import type { Person } from '../../src/conversation/world.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { type Patient, patientOf, quickText } from './patient.ts';
import { type Agent, type Town, townContent } from './town.ts';

type Ask = NonNullable<OutboundMessage['ask']>;
const minute = 60_000;
const hour = 60 * minute;

/** How people of a town behave, as probabilities. */
export interface Manners {
  readonly silent: number;
  readonly wrong: number;
  readonly twice: number;
  readonly late: number;
}

/** Fields answered while the patient sits there. */
const present = new Set([
  'supplies',
  'supplies-stop',
  'checks',
  'lump',
  'dangers',
  'no-needle',
  'fluid',
  'fixed-time',
  'book',
  'said-back',
  'slide-code',
  'attempt',
  'slides',
  'slides-dried',
  'label-check',
  'container',
  'neck',
  'sos-sign',
  'sos-now',
  'after-limit',
  'after-unwell',
  'all-dried',
  'none-usable',
  'stick-time',
]);

/** What is likelier than the other choices, by option. */
const weights: Readonly<Record<string, number>> = {
  ...{ now: 20, 'other-day': 3, material: 14, blood: 4, 'too-little': 2, unwell: 1, 'all-same': 20, 'not-same': 1 },
  ...{ fluid: 2, 'not-done': 1, written: 12, 'not-yet': 1, yes: 12, 'at-hand': 8 },
  ...{ closed: 12, 'not-tight': 1, 'all-well': 20, changed: 1, better: 12, same: 3, worse: 1, 'handed-over': 1 },
  ...{
    calling: 8,
    'not-found': 1,
    reached: 4,
    'not-reached': 3,
    agrees: 10,
    refuses: 1,
    seen: 8,
    'not-seen': 1,
    unknown: 1,
    booked: 6,
    declined: 1,
  },
  ...{ told: 8, 'ask-doctor': 1, 'refer-only': 2, 'come-again': 4, 'put-right': 3, 'on-the-way': 5, 'cannot-go': 1 },
  ...{ done: 5, 'not-possible': 1, watch: 3, faint: 3, hiccup: 2, 'needle-stick': 1 },
};

export class Worker implements Agent {
  readonly person: Person;
  private readonly town: Town;
  private readonly manners: Manners;
  private readonly waiting: Patient[] = [];
  private asked: OutboundMessage | null = null;
  private answersAt = 0;
  private previous: OutboundMessage | null = null;
  private readonly knows = new Map<string, Patient>();
  private readonly posts = new Set<string>();

  constructor(person: Person, town: Town, manners: Manners) {
    this.person = person;
    this.town = town;
    this.manners = manners;
  }

  /** A patient comes: with a quick text or question by question. */
  meet(afterMs: number): void {
    const { chance } = this.town;
    this.say(afterMs, () => {
      const patient = patientOf(chance, new Date(this.town.now).getUTCFullYear());
      this.waiting.push(patient);
      return chance.happens(0.5) ? quickText(chance, patient) : 'NEW';
    });
    if (chance.happens(0.05)) this.say(afterMs + chance.minutes(5, 90), () => 'SOS');
    if (chance.happens(0.1)) this.say(afterMs + chance.minutes(5, 600), () => 'DOCTOR may I go on like this?');
    if (chance.happens(0.1)) this.say(afterMs + chance.minutes(60, 4000), () => 'LIST');
  }

  patientOf(caseId: string): Patient | null {
    return this.knows.get(caseId) ?? null;
  }

  hear(messages: readonly OutboundMessage[]): void {
    for (const message of messages) this.look(message);
    const last = [...messages].reverse().find((one) => one.ask !== null);
    if (!last) return;
    this.previous = this.asked;
    this.asked = last;
    const { chance } = this.town;
    if (chance.happens(this.manners.silent)) return;
    const isUnnamed = messages.some((one) => one.step === 'common.of-whom');
    const again = isUnnamed || messages.some((one) => one.step === 'common.which-case');
    const hurry = again || present.has(last.ask!.field) || last.flow === 'new' || last.flow === 'decision';
    const wait = hurry ? chance.minutes(1, 6) : chance.minutes(10, 9 * 60);
    // Another question comes before this one was answered: it is answered when this one would have been.
    const { now } = this.town;
    this.answersAt = this.answersAt > now ? Math.min(this.answersAt, now + wait) : now + wait;
    this.say(this.answersAt - now, () => {
      if (this.asked !== last) return null;
      const tag = isUnnamed && last.caseId !== null ? this.town.cases.get(last.caseId)?.tag : undefined;
      return tag === undefined ? this.answer(last) : `${tag} ${this.answer(last)}`;
    });
  }

  /** What is not a question but asks for something. */
  private look(message: OutboundMessage): void {
    const { chance } = this.town;
    const { caseId, text } = message;
    if (caseId !== null && !this.knows.has(caseId) && message.flow === 'new' && this.waiting.length > 0) {
      this.knows.set(caseId, this.waiting.pop()!);
    }
    const post = /gone: POST (\d{8})/.exec(text)?.[1];
    if (post && (!this.posts.has(post) || chance.happens(0.7))) {
      this.posts.add(post);
      if (chance.happens(0.9)) this.say(chance.minutes(60, 30 * 60), () => `POST ${post}`);
    }
    const again = /(?:there|day): NEW (\d{8})/.exec(text)?.[1];
    const known = caseId === null ? null : this.knows.get(caseId);
    if (again && known && chance.happens(0.6)) {
      this.say(chance.minutes(30, 300), () => {
        this.waiting.push({ ...known, result: chance.pick(['Thy2', 'Thy1', 'Thy3a']) });
        return `NEW ${again}`;
      });
    }
    if (/LIST shows|Send any text/.test(text) && chance.happens(0.5)) this.say(chance.minutes(5, 300), () => '?');
  }

  private say(afterMs: number, text: () => string | null): void {
    const { chance } = this.town;
    const { late, twice } = this.manners;
    const heldMs = chance.happens(late) ? chance.minutes(1, 180) : 0;
    this.town.plan(this.person.id, afterMs, text, { heldMs, twice: chance.happens(twice) });
  }

  private answer(message: OutboundMessage): string {
    const { chance } = this.town;
    if (chance.happens(this.manners.wrong))
      return chance.pick(['8', '3', 'ok', 'yes', '11', 'what now?', '1234', 'no']);
    if (this.previous?.ask && chance.happens(this.manners.wrong / 2))
      return this.right(this.previous, this.previous.ask);
    return this.right(message, message.ask!);
  }

  private right(message: OutboundMessage, ask: Ask): string {
    const { chance } = this.town;
    const patient = message.caseId === null ? null : this.knows.get(message.caseId);
    switch (ask.field) {
      case 'patient': {
        const who = this.waiting.at(-1) ?? patient ?? patientOf(chance, 2030);
        return `${who.initials} ${who.born ?? who.age} ${who.female ? 'F' : 'M'}`;
      }
      case 'dangerSigns':
        return this.none(ask, { '1': ask.options.some((one) => one.id === 'stridor') ? 0.3 : 1, '2': 1, '9': 1 });
      case 'risks':
        return this.none(ask, { '1': 1, '9': 1, '3': 1 });
      case 'bleeding':
        return this.none(ask, { '5': 1, '6': 1, '9': 0.5 });
      case 'examined':
        return chance.weighted({ '1': 5, '2': 5, '3': 1, '4': 1, '9': 1 });
      case 'features':
        return chance.weighted({ '14': 4, '0': 4, '1': 4, '39': 1, '9': 2 });
      case 'foci':
        return this.none(ask, { '6': 8, '69': 1, '9': 3 });
      case 'findings-check':
        return chance.happens(0.93) ? 'OK' : chance.pick(['C2', 'C6', 'C9', 'C10', 'C11', 'C5', 'CP']);
      case 'supplies':
        return ask.options.some((one) => one.id === 'syringe')
          ? chance.weighted({ '1357H': 10, '12357': 5, '1456': 1, '135': 1, '1357': 4 })
          : chance.weighted({ '7H': 8, '7': 6, '8': 1, G: 1, '0': 1 });
      case 'checks':
        return chance.weighted({ ALL: 16, '41': 1, '44 45': 1 });
      case 'lump':
        return chance.weighted({ '80': 16, '9': 1, '1': 1, '2': 1 });
      case 'dangers':
        return chance.weighted({ '50': 16, '51': 1, '53': 1, '54': 1, '52': 1 });
      case 'fluid':
        return `${1 + chance.below(30)} ml ${1 + chance.below(5)}`;
      case 'fixed-time':
        return '9';
      case 'slide-code':
        return /CODE (\d{4}) (\d{4})/.exec(message.text)?.slice(1).join('') ?? message.code ?? '1';
      case 'slides':
      case 'slides-dried': {
        const count = Number(/All (\d) good/.exec(message.text)?.[1] ?? 2);
        return Array.from({ length: count }, () => chance.weighted({ '6': 20, '7': 2, '8': 1, '0': 1 })).join('');
      }
      case 'mm':
        return `${chance.pick(['R', 'L'])} ${9 + chance.below(25)}x${8 + chance.below(9)}x8`;
      case 'solidPartMm':
        return '12';
      case 'inr':
        return '2.4';
      case 'patient.pregnantWeeks':
        return '18';
    }
    if (ask.kind === 'date') return this.day(1 + chance.below(5));
    if (ask.kind === 'text') return 'what shall I do';
    return this.choose(ask);
  }

  /** Mostly none of these, by its own number; else one of the others that the question has. */
  private none(ask: Ask, others: Readonly<Record<string, number>>): string {
    const none = ask.options.find((one) => one.id === 'none')?.reply;
    if (none === undefined) return this.choose(ask);
    const reply = this.town.chance.weighted(
      Object.fromEntries(
        [[none, 20] as const, ...Object.entries(others)].map(([each, weight]) => [`=${each}`, weight]),
      ),
    );
    return reply.slice(1);
  }

  private choose(ask: Ask): string {
    const entries = ask.options.map((one) => [one.reply, weights[one.id] ?? 4] as const);
    if (entries.length === 0) return '1';
    const reply = this.town.chance.weighted(Object.fromEntries(entries.map(([each, weight]) => [`=${each}`, weight])));
    return reply.slice(1);
  }

  private day(ahead: number): string {
    const at = new Date(this.town.now + ahead * 24 * hour);
    return `${at.getUTCDate()} ${townContent.texts.months('en')[at.getUTCMonth()]}`;
  }
}
