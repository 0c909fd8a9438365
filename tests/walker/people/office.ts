/** What coordinators do to the roster in a fortnight, as they text it. */
import type { Person } from '../../../src/conversation/world.ts';
import type { Chance } from '../../simulation/chance.ts';
import type { WalkingDesk } from './desk.ts';

const dayMs = 24 * 3_600_000;

/** Who is spoken of: nobody of them carries a patient, but for the two who hand over. */
export interface Roster {
  readonly spare: Person;
  readonly doctor: Person;
  readonly from: Person;
  readonly to: Person;
}

/** Each wish once on a day of its own; the last ones at the same time by two of them. */
export function runOffice(chance: Chance, desks: readonly WalkingDesk[], { spare, doctor, from, to }: Roster): void {
  const nobodys = (): string => `+0005550${String(chance.below(10_000)).padStart(5, '7')}`;
  const wishes = [
    `ADD worker ${nobodys()} oruma Ada Lumo`,
    `ADD doctor ${nobodys()} oruma Beno Sarr`,
    `ADD coordinator ${nobodys()} oruma Mila Ost`,
    `LOST ${doctor.name}`,
    `RESTORE ${doctor.name}`,
    `RESTORE ${doctor.name}`,
    `FRESH ${from.name}`,
    `HANDOVER ${from.name}, ${to.name}`,
    `CHANGE ${spare.name} ${nobodys()}`,
    `CREDIT ${1 + chance.below(9000)}`,
    `CREDIT ${1 + chance.below(9000)}`,
  ];
  wishes.forEach((text, day) => {
    chance.pick(desks).say(day * dayMs + chance.minutes(60, 600), () => ({ text, slip: 'word' }));
  });
  ['SUSPEND', 'RESTORE', 'SUSPEND'].forEach((word, index) => {
    for (const desk of desks.slice(0, 2)) {
      const at = (wishes.length + index) * dayMs + chance.minutes(60, 65);
      desk.say(at, () => ({ text: `${word} ${spare.name}`, slip: 'word' }));
    }
  });
}
