/** All of the desk: built from the first state, and drawn anew with each that follows. */
import { Clock } from './clock.ts';
import type { BenchState } from './contract.ts';
import { DecisionCard } from './decision-card.ts';
import { byId } from './dom.ts';
import { Guide } from './guide.ts';
import { heardOf } from './heard.ts';
import { announce } from './note.ts';
import { Objects } from './objects.ts';
import { Panels } from './panels.ts';
import { PatientChoice } from './patient.ts';
import { Patients } from './patients.ts';
import { Phone } from './phone.ts';
import { trainingActions } from './scenario-actions.ts';
import type { Store } from './state.ts';
import { showStrip } from './strip.ts';
import { Unread } from './unread.ts';
import { mostUrgent } from './urgency.ts';
import { type Say, sayOf } from './words.ts';

export class Desk {
  private readonly store: Store;
  private readonly say: Say;
  private readonly unread = new Unread();
  private readonly panels: Panels;
  private readonly clock: Clock;
  private readonly guide: Guide;
  private readonly patients: Patients;
  private readonly objects: Objects;
  private readonly decision: DecisionCard;
  private readonly patient: PatientChoice;
  private phones: readonly Phone[] = [];
  /** What lies on the phones is of a case to practise. */
  private isPractice = false;

  constructor(store: Store) {
    this.store = store;
    this.say = sayOf(store.state.words);
    this.panels = new Panels(this.say);
    this.clock = new Clock(store, this.say, (address) => this.panels.open(address));
    const training = trainingActions(this.say, {
      done: () => store.refresh(),
      hasOwnPatients: () => !this.isPractice && store.state.cases.length > 0,
    });
    this.guide = new Guide(this.say, {
      ...training,
      free: () => {
        this.guide.openHelp();
        this.openFirst(true);
      },
    });
    this.patients = new Patients(this.say);
    this.objects = new Objects(
      this.say,
      () => store.now(),
      () => this.loadPatient(),
    );
    this.decision = new DecisionCard(this.say, () => this.loadPatient());
    this.patient = new PatientChoice(this.say, () => this.loadPatient());
    this.build(store.state);
  }

  /** Draws a state; `before` null: everything began anew. */
  show(state: BenchState, before: BenchState | null): void {
    const isSame =
      this.phones.map(({ address }) => address).join() === state.people.map(({ address }) => address).join();
    if (!isSame) this.build(state);
    const { scenario } = state;
    this.isPractice = scenario !== null || (before !== null && this.isPractice);
    const step = scenario?.guided ? scenario.next : null;
    for (const phone of this.phones) {
      phone.light(step?.address === phone.address ? step.send : null);
      phone.show(personOf(state, phone), state.price, state.now);
    }
    this.panels.light(step?.address ?? null);
    this.marks();
    this.clock.show(state);
    this.guide.show(state.scenario, state.words);
    this.patient.show(state.cases);
    this.patients.show(state.cases, state.words);
    this.loadPatient();
    if (before) for (const one of heardOf(state, before, this.say)) announce(one);
    if (scenario && scenario.id !== before?.scenario?.id) {
      this.panels.open(scenario.you);
      this.panels.open('guide');
    }
  }

  private build(state: BenchState): void {
    // What was there before somebody answered last was read by whoever answered.
    for (const { texts } of state.people) this.unread.see(texts.slice(0, texts.findLastIndex((one) => !one.out) + 1));
    this.panels.clear();
    for (const one of [this.guide, this.patients, this.objects, this.decision]) this.panels.add(one);
    this.phones = state.people.map(
      (person, place) =>
        new Phone(person, place + 1, {
          say: this.say,
          unread: this.unread,
          changed: () => this.marks(),
          refresh: () => this.store.refresh(),
        }),
    );
    for (const phone of this.phones) this.panels.add(phone);
    const first = (role: string): readonly string[] =>
      state.people
        .filter(({ roles }) => roles.includes(role))
        .slice(0, 1)
        .map(({ address }) => address);
    this.panels.begin(['guide', ...first('worker'), ...first('doctor'), ...first('lab'), ...first('coordinator')]);
  }

  private marks(): void {
    for (const phone of this.phones) {
      const unread = this.unread.of(personOf(this.store.state, phone));
      this.panels.mark(phone.id, unread.length, mostUrgent(unread.map((one) => one.urgency)));
    }
  }

  private loadPatient(): void {
    const { caseId } = this.patient;
    const { cases, words } = this.store.state;
    showStrip(
      byId('strip'),
      cases.filter((one) => one.caseId === caseId),
      words,
    );
    if (this.panels.isOpen('table')) void this.objects.load(caseId);
    if (this.panels.isOpen('decision')) void this.decision.load(caseId, words);
  }

  private openFirst(withFocus: boolean): void {
    const worker = this.store.state.people.find(({ roles }) => roles.includes('worker'));
    if (worker) this.panels.open(worker.address, withFocus);
  }
}

/** The person of a phone. Throws when there is none: phones are built from the people. */
function personOf({ people }: BenchState, phone: Phone) {
  const found = people.find(({ address }) => address === phone.address);
  if (!found) throw new Error(`nobody has the phone ${phone.address}`);
  return found;
}
