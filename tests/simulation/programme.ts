/** Five sites, twelve workers, three doctors, two laboratories, a coordinator: all invented. */
import type { Person, Role } from '../../src/conversation/world.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { chanceOf } from './chance.ts';
import { Doctor } from './doctor.ts';
import { Laboratory } from './laboratory.ts';
import { type Agent, Town, townContent } from './town.ts';
import { type Manners, Worker } from './worker.ts';

const sites = ['oruma', 'kesu', 'lundi', 'maro', 'nire'];
export const dayMs = 86_400_000;

/** Monday 4 March 2030, 7:00 in the clinics. */
export const townStart = Date.UTC(2030, 2, 4, 4);

const manners: Manners = { silent: 0.07, wrong: 0.05, twice: 0.04, late: 0.03 };

function person(id: string, role: Role, siteId: string, number: number, rank = 0): Person {
  return {
    id,
    programmeId: townContent.programme.id,
    name: id,
    roles: [role],
    siteId,
    locale: 'en',
    addresses: [{ channel: 'sms', address: `+00055502${String(number).padStart(4, '0')}` }],
    rank,
    state: 'joined',
    practised: true,
    shared: false,
  };
}

/** Hears of alarms, phones people, opens what is locked. */
class Coordinator implements Agent {
  readonly person: Person;
  private readonly town: Town;

  constructor(of: Person, town: Town) {
    this.person = of;
    this.town = town;
  }

  hear(messages: readonly OutboundMessage[]): void {
    const last = [...messages].reverse().find((one) => one.ask !== null);
    const reply = last?.ask?.options[0]?.reply;
    if (reply) this.town.plan(this.person.id, this.town.chance.minutes(30, 1500), () => reply);
  }
}

export interface Month {
  readonly town: Town;
  readonly workers: readonly Worker[];
}

/** Lives `days` days with `patients` patients who come in the first `intake` days. Closes nothing: the caller does. */
export async function liveMonth(
  seed: number,
  days: number,
  patients: number,
  intake: number,
  mute: Town['mute'] = () => false,
): Promise<Month> {
  const chance = chanceOf(seed);
  const town = new Town(seed, chance, townStart);
  town.mute = mute;
  const workers = Array.from({ length: 12 }, (_, index) => {
    const siteId = sites[index % sites.length]!;
    return new Worker(person(`w${index + 1}`, 'worker', siteId, index + 1), town, manners);
  });
  const onGlass = (caseId: string) => workers.map((one) => one.patientOf(caseId)).find((one) => one !== null) ?? null;
  const doctors = [1, 2, 3].map(
    (rank) => new Doctor(person(`d${rank}`, 'doctor', 'oruma', 100 + rank, rank), town, manners),
  );
  const labs = ['velin', 'mora'].map(
    (id, index) => new Laboratory(person(`l${index + 1}`, 'lab', id, 200 + index), town, manners, onGlass),
  );
  const coordinator = new Coordinator(person('c1', 'coordinator', 'oruma', 300), town);
  await town.open([...workers, ...doctors, ...labs, coordinator]);
  for (let n = 0; n < patients; n += 1) {
    const day = chance.below(intake) * dayMs;
    chance.pick(workers).meet(day + chance.minutes(30, 8 * 60));
  }
  for (const doctor of doctors) doctor.live(days);
  await town.live(townStart + days * dayMs);
  return { town, workers };
}
