/** What is missing before a patient may be served: one pure list for `ready` and for a start on real channels. */
import type { Unsigned } from '../../conversation/event.ts';
import type { Programme } from '../../conversation/programme.ts';
import type { Person } from '../../conversation/world.ts';
import { missingAround } from './missing-around.ts';
import { missingNames } from './missing-names.ts';
import { missingPeople } from './missing-people.ts';

/**
 * What something that is missing holds up. `every-start`: also a trial would send people nowhere; `start`: an incomplete
 * programme, which starts as a trial only; `patients`: the line may run, no patient may depend on it; `nothing`: worth
 * knowing.
 */
export type HoldsUp = 'every-start' | 'start' | 'patients' | 'nothing';

/** One thing that is missing, in sentences for the operator. */
export interface Missing {
  /** For programs: the kind of thing, with its place where there are several. */
  readonly id: string;
  readonly what: string;
  /** How to mend it. */
  readonly mend: string;
  readonly holdsUp: HoldsUp;
}

/** All that the list is made from. */
export interface Facts {
  readonly now: number;
  readonly programme: Programme;
  /** The invented programme of the package, whose names must not reach a patient. */
  readonly invented: Programme;
  /** The operator named a programme of their own. */
  readonly ownProgramme: boolean;
  readonly roster: readonly Person[];
  /** Names of the links that are configured. */
  readonly links: readonly string[];
  readonly backup: {
    /** The line makes them; false: the tools of the database server do, and each is noted. */
    readonly own: boolean;
    /** A public key to seal backups to is configured. */
    readonly key: boolean;
    /** When the last one was made, ms; null = never. */
    readonly lastAt: number | null;
    /** Older than this and it is late, ms. */
    readonly lateMs: number;
  };
  /** Alerts go to an address outside the line. */
  readonly alertsElsewhere: boolean;
  readonly unsigned: Unsigned;
  /** A line for each setting that has a fault. */
  readonly faults: readonly string[];
}

/** Everything that is missing, what holds up most first. */
export function missingOf(facts: Facts): readonly Missing[] {
  const order: readonly HoldsUp[] = ['every-start', 'start', 'patients', 'nothing'];
  const all = [...faultySettings(facts), ...missingNames(facts), ...missingPeople(facts), ...missingAround(facts)];
  return order.flatMap((holdsUp) => all.filter((one) => one.holdsUp === holdsUp));
}

function faultySettings({ faults }: Facts): readonly Missing[] {
  return faults.map((fault) => ({
    id: `setting ${/NECKLINE_\w+/.exec(fault)?.[0] ?? ''}`.trim(),
    what: `${fault}.`,
    mend: 'Mend the settings: deploy/neckline.env.example explains each.',
    holdsUp: 'every-start',
  }));
}

/** True: no patient may depend on the line while this is missing. */
export function holdsUpPatients({ holdsUp }: Missing): boolean {
  return holdsUp !== 'nothing';
}
