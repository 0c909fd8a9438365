/** Who is on the line in a batch. */
import type { Content } from '../../../src/content/load.ts';
import type { Person, Role } from '../../../src/conversation/world.ts';
import type { Town } from '../town.ts';
import { sharesPhones, wayOf } from '../ways.ts';
import { WalkingDesk } from './desk.ts';
import { WalkingDoctor } from './doctor.ts';
import { habitsOf } from './habits.ts';
import { WalkingLaboratory } from './laboratory.ts';
import type { Patients } from './patients.ts';
import { type SiteWords, WalkingWorker } from './worker.ts';

export interface People {
  readonly workers: readonly WalkingWorker[];
  readonly doctors: readonly WalkingDoctor[];
  readonly labs: readonly WalkingLaboratory[];
  readonly desks: readonly WalkingDesk[];
}

/** All phones of a batch. The third doctor is off the line where nobody is there at first. */
export function peopleOf(town: Town, known: Patients, content: Content, seed: number, sittings: number): People {
  const way = wayOf(seed);
  const habits = habitsOf(way);
  const shares = sharesPhones(seed);
  const { sites, laboratories, id: programmeId } = content.programme;
  const person = (id: string, role: Role, siteId: string, number: number, more: Partial<Person> = {}): Person => ({
    ...{ id, programmeId, name: id, roles: [role], siteId, locale: 'en', rank: 0 },
    addresses: [{ channel: 'sms', address: `+00055503${String(number).padStart(4, '0')}` }],
    ...{ state: 'joined', practised: true, shared: false },
    ...more,
  });
  const words: SiteWords = {
    quick: content.quick.get('en')!,
    practice: content.texts.words('en', 'new-words', 'practice')[0]!,
    worse: content.texts.alarmWords('en')[0]!.answers.worse[0]!,
  };
  const spare = way === 'office' ? 1 : 0;
  const workers = Array.from({ length: sittings + spare }, (_, index) => {
    const own: Partial<Person> = {
      ...(shares && index === 1 ? { shared: true, name: 'Ona/Pel' } : {}),
      ...(index === 3 ? { practised: false } : {}),
      ...(way === 'chat' && index % 2 === 0
        ? { addresses: [{ channel: 'telegram', address: String(7000 + index) }] }
        : {}),
    };
    const one = person(`w${index + 1}`, 'worker', sites[index % sites.length]!.id, index + 1, own);
    return new WalkingWorker(one, town, known, words, habits);
  });
  const doctors = [1, 2, 3].map((rank) => {
    const state = way === 'nobody' && rank === 3 ? ('suspended' as const) : ('joined' as const);
    const one = person(`d${rank}`, 'doctor', sites[0]!.id, 800 + rank, { rank, state });
    return new WalkingDoctor(one, town, habits.slow);
  });
  const helpers = laboratories.map(({ id }, index) => person(`h${index + 1}`, 'lab', id, 870 + index));
  const labs = laboratories.map(({ id }, index) => {
    const own = shares ? { shared: true, name: `Rin${index}/Sol${index}` } : {};
    const one = person(`l${index + 1}`, 'lab', id, 850 + index, own);
    return new WalkingLaboratory(one, town, known, habits, shares ? helpers[index]!.id : null);
  });
  const coordinators = (way === 'office' ? [1, 2, 3] : [1]).map((n) =>
    person(`c${n}`, 'coordinator', sites[0]!.id, 899 + n),
  );
  const desks = [
    ...coordinators.map((one) => new WalkingDesk(one, 'coordinator', town)),
    ...(shares ? helpers.map((one) => new WalkingDesk(one, 'lab', town)) : []),
  ];
  return { workers, doctors, labs, desks };
}
