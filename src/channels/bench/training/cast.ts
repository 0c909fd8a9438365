/** Who of the roster plays which part of a scenario. */
import type { Programme } from '../../../conversation/programme.ts';
import type { Person } from '../../../conversation/world.ts';
import type { Part } from '../../../training/scenario.ts';

export interface Player {
  readonly id: string;
  readonly name: string;
  readonly address: string;
  readonly locale: string;
}

/** The people of a run, and what the places of their clinic are called. */
export interface Cast {
  readonly players: Readonly<Partial<Record<Part, Player>>>;
  /** IANA zone of the clinic. */
  readonly zone: string;
  /** What fills the places of a scenario's words: `{you}`, `{clinic}`, `{hospital}` and so on. */
  readonly names: Readonly<Record<string, string>>;
}

/** The first worker of the roster, the doctors in the order of the ladder, the laboratory of that clinic. */
export function castOf(roster: readonly Person[], programme: Programme, channel: string, you: Part): Cast {
  const there = roster
    .filter(({ addresses, state }) => state === 'joined' && addresses.some((one) => one.channel === channel))
    .toSorted(
      (a, b) => a.rank - b.rank || placeOf(programme, a) - placeOf(programme, b) || a.name.localeCompare(b.name),
    );
  const worker = there.find(({ roles }) => roles.includes('worker'));
  const site = programme.sites.find(({ id }) => id === worker?.siteId) ?? programme.sites[0];
  const lab = programme.laboratories.find(({ id }) => id === site?.labId);
  const doctors = there.filter(({ roles }) => roles.includes('doctor'));
  const found: Partial<Record<Part, Person | undefined>> = {
    worker,
    doctor: doctors[0],
    'second-doctor': doctors[1],
    laboratory: there.find(({ roles, siteId }) => roles.includes('lab') && siteId === site?.labId),
    coordinator: there.find(({ roles }) => roles.includes('coordinator')),
  };
  const players: Partial<Record<Part, Player>> = {};
  for (const [part, person] of Object.entries(found) as [Part, Person | undefined][]) {
    const address = person?.addresses.find((one) => one.channel === channel)?.address;
    if (person && address) players[part] = { id: person.id, name: person.name, address, locale: person.locale };
  }
  const nameOf = (part: Part, otherwise: string): string => players[part]?.name ?? otherwise;
  return {
    players,
    zone: site?.zone ?? programme.zone,
    names: {
      you: nameOf(you, 'you'),
      worker: nameOf('worker', 'the nurse'),
      doctor: nameOf('doctor', 'the doctor'),
      second: nameOf('second-doctor', 'the second doctor'),
      technician: nameOf('laboratory', 'the laboratory'),
      coordinator: nameOf('coordinator', 'the coordinator'),
      clinic: site?.name ?? programme.name,
      laboratory: lab?.name ?? 'the laboratory',
      hospital: site?.hospital ?? programme.hospital,
    },
  };
}

function placeOf({ sites }: Programme, { siteId }: Person): number {
  const place = sites.findIndex(({ id }) => id === siteId);
  return place < 0 ? sites.length : place;
}
