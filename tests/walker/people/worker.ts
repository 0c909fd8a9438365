/** A health worker: answers whatever is asked by the truth of the patient, slips now and then, posts what is ready. */
import type { Case } from '../../../src/case/case.ts';
import { answerOf } from '../../../src/case/case.ts';
import { alikeCases } from '../../../src/case/same-patient.ts';
import type { QuickVocabulary } from '../../../src/conversation/answers/quick-vocabulary.ts';
import { exitWords } from '../../../src/conversation/exits.ts';
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import { asToday } from '../another-day.ts';
import { answerTo } from '../answers.ts';
import { patientLine } from '../free-answers.ts';
import { asSaid, lineToCorrect } from '../mistaken.ts';
import { quickText } from '../quick.ts';
import type { Agent, Spoken, Town } from '../town.ts';
import type { Ask, Recorded } from '../transcript.ts';
import type { Truth } from '../truth.ts';
import { callsWrong, takesBack } from './calls-wrong.ts';
import { sayYesToStop } from './desk.ts';
import type { Habits } from './habits.ts';
import type { Patients } from './patients.ts';
import { silenceAt } from './silence.ts';
import { unasked, wordBeside } from './words.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;

/** Flows whose questions are answered while the patient sits there. */
const present = new Set([
  'new',
  'decision',
  'target',
  'node',
  'ready',
  'sampling',
  'labelling',
  'aftercare',
  'sos',
  'cry',
  'freeze',
]);

/** Questions that are put so seldom that their exits would not be met: these times as often as others. */
function exitsOftener(askStep: string): number {
  if (/^(target|node|node-look|left-lumps)\./.test(askStep)) return 12;
  if (/^(sampling|aftercare)\./.test(askStep)) return 6;
  return askStep === 'referral.day' ? 8 : 1;
}

/** Flows in which the patient lies there and gloves are near. */
const bedside = new Set(['ready', 'sampling', 'labelling', 'aftercare']);

/** A question that comes so often in a row has no answer that it takes. */
const stuckAfter = 14;

/** What the language calls things that are no options. */
export interface SiteWords {
  readonly quick: QuickVocabulary;
  readonly practice: string;
  /** Of a patient in an alarm. */
  readonly worse: string;
}

export class WalkingWorker implements Agent {
  readonly person: Person;
  readonly role = 'worker';
  private readonly town: Town;
  private readonly patients: Patients;
  private readonly words: SiteWords;
  private readonly habits: Habits;
  private asked: OutboundMessage | null = null;
  private answersAt = 0;
  private met: Truth | null = null;
  private readonly toldStuck = new Set<string>();
  private readonly times = new Map<string, number>();
  private readonly posting = new Map<string, number>();
  /** Cases that a colleague has taken over. */
  private readonly left = new Set<string>();
  private mutedUntil = 0;
  /** The line wants the patient's name beside the answer. */
  private needsName = false;
  /** What was last answered without a name. */
  private said: { readonly message: string; readonly text: string; readonly ids: readonly string[] } | null = null;

  constructor(person: Person, town: Town, patients: Patients, words: SiteWords, habits: Habits) {
    this.habits = habits;
    this.person = person;
    this.town = town;
    this.patients = patients;
    this.words = words;
  }

  /** A patient comes, with a quick text or question by question. */
  meet(afterMs: number, truth: Truth): void {
    const { chance } = this.town;
    this.say(afterMs, () => {
      this.patients.expect(this.person.id, truth);
      this.met = truth;
      if (chance.happens(0.02)) return { text: `NEW ${this.words.practice}` };
      return chance.happens(0.4) ? quickText(chance, asSaid(truth, null, ''), this.words.quick) : { text: 'NEW' };
    });
    this.interrupts(afterMs + chance.minutes(3, 90));
  }

  /** Says something that nobody asked for, now and then. */
  private interrupts(afterMs: number): void {
    const word = unasked(this.town.chance, this.habits.cries);
    if (word !== null) this.say(afterMs, () => word);
  }

  /** Says that they are on the line, and learns to answer before a patient comes. */
  join(afterMs: number): void {
    this.say(afterMs, () => ({ text: 'JOIN', slip: 'word' }));
  }

  learn({ record, after, caseId }: Recorded): void {
    const { event } = record;
    if (event.type === 'taken-over') {
      if (event.ownerId === this.person.id) this.left.delete(caseId);
      else this.left.add(caseId);
    }
    if (after.ownerId !== this.person.id) return;
    const { chance } = this.town;
    if (after.status === 'posting' && !this.posting.has(caseId)) this.post(after, chance.minutes(60, 1500));
    if (event.type === 'labelled' && chance.happens(this.habits.watchedByAnother)) this.watchedByAnother(after);
    if (event.type === 'answered' && event.field === 'repeat-day' && event.item !== null)
      this.repeat(after, event.item);
  }

  hear(messages: readonly OutboundMessage[]): void {
    const { chance, now } = this.town;
    for (const message of messages) {
      const of = message.caseId === null ? null : (this.town.cases.get(message.caseId) ?? null);
      if (of?.status === 'posting' && now - (this.posting.get(of.id) ?? now) > 20 * hourMs) {
        this.post(of, chance.minutes(60, 600));
      }
    }
    if (now < this.mutedUntil) return;
    takesBack(this.town, this.person, messages);
    sayYesToStop(this.town, this.person, messages);
    const last = messages.findLast((one) => one.ask !== null);
    if (!last?.ask) {
      // The number fits several patients here: once more, with the name.
      const { asked } = this;
      if (asked && messages.some(({ step }) => step === 'common.of-which')) {
        this.needsName = true;
        this.say(chance.minutes(1, 4), () => this.reply(asked, 1));
        return;
      }
      // Something is owed and nothing is asked: the question is looked at again.
      const owed = messages.findLast((one) => one.lane === 'reminder' && one.caseId !== null);
      if (owed && this.asked) this.say(chance.minutes(10, 200), () => ({ text: '?', slip: 'word' }));
      return;
    }
    this.asked = last;
    this.needsName = messages.some(({ step }) => step === 'common.of-whom');
    // Another day is another visit: what was asked then is no repetition.
    const key = `${last.caseId} ${last.flow}.${last.step} ${last.ask.item} ${Math.floor(now / (24 * hourMs))}`;
    const before = this.times.get(key) ?? 0;
    this.colleagueStepsIn(last);
    if (last.flow === 'sos' && chance.happens(0.03)) this.mute();
    if (chance.happens(silenceAt(`${last.flow}.${last.step}`))) return;
    const isPuzzled = last.ask.field === 'same-patient' && chance.happens(0.3);
    const wait = isPuzzled
      ? chance.minutes(20, 240)
      : present.has(last.flow)
        ? chance.minutes(1, 4)
        : chance.minutes(5, last.flow === 'review' ? 20 * 60 : 8 * 60);
    const stuck = before >= stuckAfter;
    if (before === stuckAfter && !this.toldStuck.has(key))
      this.town.faults.push(`no way on from ${last.flow}.${last.step}: ${last.text}`);
    const late = stuck ? 24 * hourMs : chance.happens(0.01) ? chance.minutes(31, 120) : 0;
    if (stuck) this.toldStuck.add(key);
    // Another question comes before this one was answered: it is answered when this one would have been.
    const at = now + wait + late;
    const waits = this.answersAt > now + minuteMs ? Math.min(this.answersAt, at) : at;
    this.answersAt = waits;
    this.say(waits - now, () => {
      const spoken = this.reply(last, before);
      if (spoken !== null) this.times.set(key, before + 1);
      return spoken;
    });
  }

  /** Answers what stands last on the phone; after a slip, once more, unless another question has come. */
  private reply(message: OutboundMessage, before: number): Spoken | null {
    if (this.asked !== message || this.town.now < this.mutedUntil) return null;
    if (message.caseId !== null && this.left.has(message.caseId)) return null;
    const spoken = this.answer(message, before);
    const again = spoken !== null && !['none', 'doubled'].includes(spoken.slip ?? 'none');
    if (again) this.say(this.town.chance.minutes(2, 9), () => this.reply(message, before + 1));
    return spoken;
  }

  private answer(message: OutboundMessage, before: number): Spoken | null {
    const { chance, now } = this.town;
    const ask = message.ask!;
    const about = { ask, askStep: `${message.flow}.${message.step}`, caseId: message.caseId };
    // An alarm may be about nobody by name: it is answered for the patient who was met last.
    const truth = this.patients.of(message.caseId) ?? this.patients.expected(this.person.id) ?? this.met;
    if (!truth) return null;
    const of = message.caseId === null ? null : (this.town.cases.get(message.caseId) ?? null);
    if (bedside.has(message.flow) && chance.happens(this.alarmsAt(about.askStep, of)))
      return { ...about, text: 'SOS', slip: 'alarm' };
    if (/^decision.emergency/.test(about.askStep) && chance.happens(0.12))
      return { ...about, text: this.words.worse, slip: 'alarm' };
    if (message.flow === 'sampling' && chance.happens(this.habits.newAtNeedle))
      return { ...about, text: 'NEW', slip: 'word' };
    const wrong = callsWrong(this.town, message, this.habits.calledWrong);
    if (wrong !== null) return wrong;
    const slip = chance.weighted({ none: 930, unreadable: 22, doubled: 16, back: 14, word: 8 });
    if (slip === 'unreadable')
      return { ...about, text: chance.pick(['what now', '88', 'zz', 'ok then', '4711']), slip };
    if (slip === 'back') return { ...about, text: chance.pick(['B', 'BACK']), slip };
    if (slip === 'word') return { ...about, text: wordBeside(chance), slip };
    const { exits = [] } = ask;
    if (exits.length > 0 && chance.happens(this.habits.exits * exitsOftener(about.askStep))) {
      const exit = chance.pick(exits);
      return { ...about, text: exitWords[exit], ids: [`exit.${exit}`], slip: 'word' };
    }
    const isSame = this.isSame(of, truth);
    const { likes } = this.habits;
    const examining = message.flow === 'new';
    const said = asSaid(asToday(truth, of), of, ask.field, ask.item);
    const line = ask.field === 'findings-check' ? lineToCorrect(truth, of, chance) : null;
    const wanted = ask.options.find(({ id }) => id === line);
    if (wanted) return { ...about, text: wanted.reply, ids: [wanted.id] };
    const { text, ids } = answerTo({ ask, truth: said, of, now, chance, before, examining, isSame, likes });
    if (ask.field === 'sos-now') this.saysMore(ask, ids, about);
    if (!this.needsName || of === null) {
      this.said = { message: `${message.caseId} ${about.askStep}`, text, ids };
      return { ...about, text, ids, slip };
    }
    // Whoever is asked of whom it is sends the same once more, with the name.
    const same = this.said?.message === `${message.caseId} ${about.askStep}` ? this.said : { text, ids };
    return { ...about, text: `${of.tag} ${same.text}`, ids: same.ids, slip };
  }

  private alarmsAt(askStep: string, of: Case | null): number {
    // It went on after an alarm, because a doctor allowed it.
    if (of !== null && answerOf(of, 'alarm-allowed') === true) return this.habits.alarmsAgain;
    // While a doctor or a day is waited for, the patient is there, and no question comes that would be missed.
    if (/^ready\.(needle-doctor|doctor-spoke|no-needle|other-day|postpone)$/.test(askStep))
      return 6 * this.habits.alarms;
    return askStep.startsWith('sampling.') ? this.habits.alarmsAtNeedle : this.habits.alarms;
  }

  /** Between two checks of an alarm: its end, or that it is worse, without being asked. */
  private saysMore(ask: Ask, ids: readonly string[], about: Omit<Spoken, 'text'>): void {
    const { chance } = this.town;
    const end = ask.options.find(({ id }) => id === chance.pick(['better', 'handed-over']));
    const goesOn = ids.some((id) => ['same', 'worse', 'cannot-go'].includes(id));
    if (goesOn && chance.happens(0.06)) this.say(25_000, () => ({ ...about, text: this.words.worse, slip: 'alarm' }));
    else if (goesOn && end && chance.happens(0.15))
      this.say(20_000 + chance.below(35_000), () => ({ ...about, text: end.reply, ids: [end.id] }));
  }

  /** The case that the line knows already is of this patient. */
  private isSame(of: Case | null, truth: Truth): boolean {
    const [first] = of ? alikeCases(of) : [];
    return this.patients.of(first?.caseId ?? null)?.lumps === truth.lumps;
  }

  /** The phone lies somewhere for half a day, then it is looked at. */
  private mute(): void {
    this.mutedUntil = this.town.now + 7 * hourMs;
    this.say(7 * hourMs + minuteMs, () => ({ text: '?', slip: 'word' }));
  }

  /** Somebody else of the site goes on: takes the case, or sees the patient who comes to look again. */
  private colleagueStepsIn({ flow, caseId }: OutboundMessage): void {
    const { chance } = this.town;
    const of = caseId === null ? null : (this.town.cases.get(caseId) ?? null);
    const colleague = this.colleague();
    const truth = this.patients.of(caseId);
    if (!of || !truth || !colleague || of.ownerId !== this.person.id) return;
    const code = of.specimens[0]?.code;
    if (code !== undefined && bedside.has(flow) && chance.happens(this.habits.takeOvers))
      colleague.say(chance.minutes(1, 4), () => ({ text: `TAKE ${code}`, caseId, slip: 'word' }));
    if (flow === 'review' && chance.happens(0.4) && this.patients.goesElsewhere(truth))
      colleague.sees(chance.minutes(5, 120), truth);
  }

  /** The patient comes here, who may be known at this site. */
  sees(afterMs: number, truth: Truth): void {
    this.say(afterMs, () => {
      this.patients.expect(this.person.id, truth);
      return { text: `NEW ${patientLine(truth)}` };
    });
  }

  /** A colleague sits with the patient while the neck is watched, and takes the case. */
  private watchedByAnother(of: Case): void {
    const code = of.specimens[0]?.code;
    if (code === undefined) return;
    this.colleague()?.say(this.town.chance.minutes(4, 20), () => ({
      text: `TAKE ${code}`,
      caseId: of.id,
      slip: 'word',
    }));
  }

  private colleague(): WalkingWorker | null {
    const others = [...this.town.agents.values()].filter(
      (one): one is WalkingWorker =>
        one instanceof WalkingWorker && one !== this && one.person.siteId === this.person.siteId,
    );
    return others.length > 0 ? this.town.chance.pick(others) : null;
  }

  private post(of: Case, afterMs: number): void {
    const { chance } = this.town;
    this.posting.set(of.id, this.town.now + afterMs);
    if (chance.happens(0.04)) return;
    // A colleague carries the parcel now and then.
    const carrier = chance.happens(0.06) ? (this.colleague() ?? this) : this;
    carrier.say(afterMs, () => {
      const now = this.town.cases.get(of.id)!;
      const ready = now.specimens.find((one) => one.end === null && one.postedAt === null);
      return ready ? { text: `POST ${ready.code}`, caseId: of.id } : null;
    });
  }

  /** The new needle's day has come: the patient is opened anew by the code. */
  private repeat(of: Case, specimen: string): void {
    const { chance } = this.town;
    const truth = this.patients.of(of.id);
    const code = of.specimens.find(({ id }) => id === specimen)?.code;
    if (!truth || code === undefined || chance.happens(0.15)) return;
    const seesIt = chance.happens(0.2) ? (this.colleague() ?? this) : this;
    seesIt.say(chance.minutes(24 * 60, 7 * 24 * 60), () => {
      this.patients.expect(seesIt.person.id, {
        ...truth,
        results: truth.results.slice(1).concat(chance.pick(['Thy1', truth.results[0]!])),
      });
      return { text: `NEW ${code}` };
    });
  }

  private say(afterMs: number, say: () => Spoken | null): void {
    this.town.plan(this.person.id, afterMs, say);
  }
}
