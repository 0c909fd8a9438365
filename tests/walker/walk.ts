/** Walks batches of patients through the line, each batch in a town of its own. */
import type { Content } from '../../src/content/load.ts';
import type { Person, Role } from '../../src/conversation/world.ts';
import { type Chance, chanceOf } from '../simulation/chance.ts';
import type { Coverage } from './coverage.ts';
import { WalkingCoordinator } from './people/coordinator.ts';
import { WalkingDoctor } from './people/doctor.ts';
import { WalkingLaboratory } from './people/laboratory.ts';
import { Patients } from './people/patients.ts';
import { WalkingWorker } from './people/worker.ts';
import { Town } from './town.ts';
import type { Entry, Walked } from './transcript.ts';
import { truthOf } from './truth.ts';

const dayMs = 86_400_000;
const hourMs = 3_600_000;

/** Patients of one batch: enough to share a morning text, few enough to read. */
export const batchSize = 20;

/** Monday 4 March 2030, 7:00 at the clinics. */
const startsAt = Date.UTC(2030, 2, 4, 4);
/** From the last patient's coming on: an open case is then owed by somebody. */
const daysAfter = 30;

export interface Batch {
  readonly walked: readonly Walked[];
  readonly faults: readonly string[];
}

/** Walks one batch. The same seed walks the same. */
export async function walkBatch(content: Content, coverage: Coverage, seed: number, patients: number): Promise<Batch> {
  const chance = chanceOf(seed);
  const town = new Town({ ...content, flows: coverage.flows }, seed, chance, startsAt);
  const known = new Patients();
  const person = (id: string, role: Role, siteId: string, number: number, rank = 0): Person => ({
    ...{ id, programmeId: content.programme.id, name: id, roles: [role], siteId, locale: 'en', rank },
    addresses: [{ channel: 'sms', address: `+00055503${String(number).padStart(4, '0')}` }],
    ...{ state: 'joined', practised: true, shared: false },
  });
  const sites = content.programme.sites;
  const sittings = sittingsOf(chance, patients);
  const vocabulary = content.quick.get('en')!;
  const workers = sittings.map(
    (_, index) =>
      new WalkingWorker(
        person(`w${index + 1}`, 'worker', sites[index % sites.length]!.id, index + 1),
        town,
        known,
        vocabulary,
      ),
  );
  const doctors = [1, 2, 3].map(
    (rank) => new WalkingDoctor(person(`d${rank}`, 'doctor', sites[0]!.id, 800 + rank, rank), town),
  );
  const labs = content.programme.laboratories.map(
    ({ id }, index) => new WalkingLaboratory(person(`l${index + 1}`, 'lab', id, 850 + index), town, known),
  );
  const coordinator = new WalkingCoordinator(person('c1', 'coordinator', sites[0]!.id, 900), town);
  town.onRecord = (recorded) => {
    if (recorded.record.event.type === 'opened') known.bind(recorded);
    for (const one of [...workers, ...labs]) one.learn(recorded);
  };
  try {
    await town.open([...workers, ...doctors, ...labs, coordinator]);
    let lastAt = 0;
    sittings.forEach((count, index) => {
      let at = Math.floor(index / 5) * dayMs + chance.minutes(60, 8 * 60);
      for (let n = 0; n < count; n += 1) {
        workers[index]!.meet(at, truthOf(chance, 2030));
        lastAt = Math.max(lastAt, at);
        at += chance.minutes(4, 40);
      }
    });
    const met = startsAt + lastAt + hourMs;
    await town.live(
      met + daysAfter * dayMs,
      () => town.now > met && [...town.cases.values()].every(({ status }) => status === 'closed'),
    );
    for (const one of town.entries) {
      if (one.kind === 'sent' && one.ask) for (const id of one.ids) coverage.choose(one.askStep, id);
    }
    return {
      walked: walkedOf(town, known, seed, content),
      faults: town.faults.map((fault) => `seed ${seed}: ${fault}`),
    };
  } finally {
    await town.close();
  }
}

/** One patient a phone, sometimes two at once. */
function sittingsOf(chance: Chance, patients: number): readonly number[] {
  const sittings: number[] = [];
  for (let left = patients; left > 0; ) {
    const count = Math.min(left, chance.happens(0.2) ? 2 : 1);
    sittings.push(count);
    left -= count;
  }
  return sittings;
}

function walkedOf(town: Town, known: Patients, seed: number, content: Content): readonly Walked[] {
  return [...town.cases.values()].flatMap((of, index) => {
    const truth = known.of(of.id);
    if (!truth) return [];
    // What opened another patient's case is said of that one.
    const own = (one: Entry): boolean =>
      one.kind === 'sent'
        ? one.by === of.ownerId && one.ids.length === 0
        : one.kind === 'said' && one.to === of.ownerId;
    const concerns = (one: Entry): boolean => one.caseId === of.id || (one.caseId === null && own(one));
    const site = content.programme.sites.find(({ id }) => id === of.siteId);
    return [
      {
        ...{ seed, number: index + 1, truth, of },
        entries: town.entries.filter(concerns),
        guidance: site?.guidance === true,
        endedAt: town.now,
        reachable: (id: string) => town.agents.has(id),
      },
    ];
  });
}
