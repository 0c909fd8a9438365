/** Tells the coordinators of a change of state, once, also when the process dies in between. */
import type { DueWhat, TroubleKey } from '../conversation/event.ts';
import type { Handler } from './handle.ts';
import type { Clock, Log, Random, Store } from './ports.ts';

export interface TellParts {
  readonly store: Store;
  readonly handler: Handler;
  readonly clock: Clock;
  readonly random: Random;
  readonly log: Log;
  readonly programmeId: string;
}

/** Something that is in one of several states. */
export interface Told {
  /** Mark under which the state that was told last is kept. */
  readonly mark: string;
  readonly state: string;
  /** The state in which nothing was ever told. */
  readonly normal: string;
  /** Text `trouble.<key>`; null = this state is not spoken of. */
  readonly key: TroubleKey | null;
  readonly vars: Readonly<Record<string, string>>;
}

/** Does nothing when the state is the one that was told last. */
export async function tellChange(parts: TellParts, told: Told): Promise<void> {
  const { store, log } = parts;
  const { mark, state, normal, key, vars } = told;
  const [before = normal, count = '0'] = ((await store.mark(mark)) ?? normal).split(' ');
  if (before === state) return;
  const turn = Number(count) + 1;
  log.write(state === normal ? 'info' : 'warn', 'state-changed', { kind: mark, code: state });
  if (key !== null && !(await tellTrouble(parts, `trouble:${mark}:${turn}`, { key, vars }))) return;
  await store.setMark(mark, `${state} ${turn}`);
}

/** Tells the coordinators something about the line itself, once under this id. False: it could not be stored. */
export async function tellTrouble(
  { handler, clock, random, programmeId }: TellParts,
  id: string,
  trouble: Omit<DueWhat & { readonly kind: 'trouble' }, 'kind'>,
): Promise<boolean> {
  const at = clock.now();
  const what = { kind: 'trouble', ...trouble } as const;
  const due = { id, programmeId, personId: null, caseId: null, name: 'trouble', frameId: null, dueAt: at, what };
  const handled = await handler.handle({ id, programmeId, keys: [id], at, seed: random.bytes(16), kind: 'due', due });
  return handled !== 'failed';
}
