/** Walks batches of patients through the line, each batch in a town of its own. */
import type { Content } from '../../src/content/load.ts';
import type { Person } from '../../src/conversation/world.ts';
import { type Chance, chanceOf } from '../simulation/chance.ts';
import type { Coverage } from './coverage.ts';
import { goesOnElsewhere, saysBetween } from './people/between-times.ts';
import type { WalkingDesk } from './people/desk.ts';
import type { WalkingDoctor } from './people/doctor.ts';
import { endsSome } from './people/ends-cases.ts';
import { habitsOf } from './people/habits.ts';
import { leavesSome } from './people/leaves.ts';
import { callsLost } from './people/lost-parcels.ts';
import { runOffice } from './people/office.ts';
import { Patients } from './people/patients.ts';
import { peopleOf } from './people/staff.ts';
import type { WalkingWorker } from './people/worker.ts';
import { type Agent, Town } from './town.ts';
import type { Entry, Walked } from './transcript.ts';
import { type Truth, truthOf } from './truth.ts';
import { leaningOf, programmeOf, type Way, wayOf } from './ways.ts';

const dayMs = 86_400_000;
const hourMs = 3_600_000;

/** Patients of one batch: enough to share a morning text, few enough to read. */
export const batchSize = 20;

/** Monday 4 March 2030, 7:00 at the clinics. */
const startsAt = Date.UTC(2030, 2, 4, 4);
/** From the last patient's coming on: an open case is then owed by somebody. */
const daysAfter = 30;
/** The same until the days to look again have come. */
const yearAfter = 420;

export interface Batch {
  readonly walked: readonly Walked[];
  readonly faults: readonly string[];
}

/** Walks one batch. The same seed walks the same. */
export async function walkBatch(content: Content, coverage: Coverage, seed: number, patients: number): Promise<Batch> {
  const chance = chanceOf(seed);
  const programme = programmeOf(content.programme, seed);
  const town = new Town({ ...content, programme, flows: coverage.flows }, seed, chance, startsAt);
  const known = new Patients();
  const way = wayOf(seed);
  const sittings = sittingsOf(chance, patients);
  const people = peopleOf(town, known, { ...content, programme }, seed, sittings.length);
  const { workers, doctors, labs, desks } = people;
  const habits = habitsOf(way);
  const idsOf = (all: readonly Agent[]): readonly string[] => all.map(({ person }) => person.id);
  const coordinators = idsOf(desks.filter(({ role }) => role === 'coordinator'));
  const waiting = [...idsOf(labs), ...coordinators];
  const enders = [...coordinators, ...coordinators, doctors[0]!.person.id];
  town.onRecord = (recorded) => {
    if (recorded.record.event.type === 'opened') known.bind(recorded);
    for (const one of [...workers, ...labs]) one.learn(recorded);
    callsLost(town, recorded, waiting, habits);
    endsSome(town, recorded, enders, habits);
    saysBetween(town, recorded, habits);
    leavesSome(town, recorded, habits);
    goesOnElsewhere(
      town,
      recorded,
      workers.map(({ person }) => person),
      habits,
    );
  };
  try {
    await town.open([...workers, ...doctors, ...labs, ...desks]);
    if (way === 'office') {
      const [from, to] = [workers[0]!.person, workers[2]?.person ?? workers[0]!.person];
      runOffice(chance, desks, { spare: workers.at(-1)!.person, doctor: doctors.at(-1)!.person, from, to });
    }
    if (way === 'nobody') leave(doctors, desks);
    const lastAt = come(chance, way, sittings, workers);
    const met = startsAt + lastAt + hourMs;
    const isLong = way === 'long';
    await town.live(
      met + (isLong ? yearAfter : daysAfter) * dayMs,
      () => !isLong && town.now > met && [...town.cases.values()].every(({ status }) => status === 'closed'),
    );
    for (const one of town.entries) {
      if (one.kind === 'sent' && one.ask) for (const id of one.ids) coverage.choose(one.askStep, id);
    }
    return {
      walked: walkedOf(town, known, seed, { ...content, programme }, await town.roster()),
      faults: town.faults.map((fault) => `seed ${seed}: ${fault}`),
    };
  } finally {
    await town.close();
  }
}

/** The patients come, one sitting after the other. Returns when the last one does, ms after the beginning. */
function come(chance: Chance, way: Way, sittings: readonly number[], workers: readonly WalkingWorker[]): number {
  const { comesTwice } = habitsOf(way);
  let lastAt = 0;
  sittings.forEach((count, index) => {
    const worker = workers[index]!;
    let at = Math.floor(index / 5) * dayMs + chance.minutes(60, 8 * 60);
    if (!worker.person.practised) worker.join(at - chance.minutes(30, 50));
    for (let n = 0; n < count; n += 1) {
      const truth = truthOf(chance, 2030, leaningOf(way));
      worker.meet(at, truth);
      if (chance.happens(comesTwice)) {
        // To a colleague of the site as well; and now and then it is somebody else who is called alike.
        const colleague = workers[index + 2] ?? worker;
        const again = at + chance.minutes(3, 60) * Number(chance.weighted({ '1': 2, '20': 1 }));
        colleague.sees(again, chance.happens(0.75) ? truth : namesake(truthOf(chance, 2030), truth));
      }
      lastAt = Math.max(lastAt, at);
      at += chance.minutes(4, 40);
    }
  });
  return lastAt;
}

function namesake(one: Truth, { initials, born, age, female }: Truth): Truth {
  return { ...one, initials, born, age, female, pregnantWeeks: null };
}

/** Nobody to call for days: who comes back last restores nobody, since that takes two. */
function leave(doctors: readonly WalkingDoctor[], desks: readonly WalkingDesk[]): void {
  const [away, ...here] = doctors.toReversed();
  for (const one of here) one.goesAway(60_000, 2 * dayMs);
  for (const desk of desks.filter(({ role }) => role === 'coordinator')) {
    desk.say(10 * 60_000, () => ({ text: `RESTORE ${away!.person.name}`, slip: 'word' }));
    desk.say(70 * 60_000, () => ({ text: 'STOP', slip: 'word' }));
    desk.say(2 * dayMs, () => ({ text: 'START', slip: 'word' }));
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

function walkedOf(
  town: Town,
  known: Patients,
  seed: number,
  content: Content,
  roster: readonly Person[],
): readonly Walked[] {
  return [...town.cases.values()].flatMap((of, index) => {
    const truth = known.of(of.id);
    if (!truth) return [];
    // What opened another patient's case is said of that one.
    const own = (one: Entry): boolean =>
      one.kind === 'sent'
        ? one.by === of.ownerId && one.ids.length === 0
        : one.kind === 'said' && one.to === of.ownerId;
    const asked = new Set(town.entries.flatMap((one) => (one.kind === 'said' && one.caseId === of.id ? one.to : [])));
    // What is asked about another patient stands before this one's question.
    const between = (one: Entry): boolean =>
      one.kind === 'said' && one.role === 'worker' && one.ask !== null && asked.has(one.to);
    const concerns = (one: Entry): boolean => one.caseId === of.id || (one.caseId === null && own(one)) || between(one);
    const site = content.programme.sites.find(({ id }) => id === of.siteId);
    return [
      {
        ...{ seed, number: index + 1, truth, of },
        entries: town.entries.filter(concerns),
        guidance: site?.guidance === true,
        programme: content.programme,
        endedAt: town.now,
        untrue: town.ledger.untrue.flatMap(({ caseId, line }) =>
          caseId === of.id || (caseId === null && index === 0) ? [line] : [],
        ),
        roster,
      },
    ];
  });
}
