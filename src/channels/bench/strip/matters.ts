/** The cases of the bench with what waits for them, read as the line itself would read them when their duty is due. */
import type { Due, DueWhat, LineEvent } from '../../../conversation/event.ts';
import type { FlowSet } from '../../../conversation/flow.ts';
import type { Programme } from '../../../conversation/programme.ts';
import type { Store } from '../../../line/ports.ts';
import type { Matter } from './forecast.ts';

/** Open cases are all shown; of those that are closed the newest. */
const closedAtMost = 6;
/** Rows that are read of what is due later. */
const rowsAtMost = 100_000;

/** All that is read from: the options of a line are one. */
export interface Source {
  readonly store: Pick<Store, 'load' | 'dueBefore'>;
  readonly content: { readonly programme: Programme; readonly flows: FlowSet };
}

/** Newest first: open cases, then closed ones. Nothing is changed, and nothing is handled. */
export async function mattersOf(
  { store, content: { flows, programme } }: Source,
  now: number,
): Promise<readonly Matter[]> {
  const event = (what: DueWhat, caseId: string | null): LineEvent => {
    const id = `bench:look:${caseId ?? 'all'}`;
    const row = { id, programmeId: programme.id, personId: null, caseId, name: 'look', frameId: null, dueAt: now };
    return {
      id,
      programmeId: programme.id,
      keys: [],
      at: now,
      seed: new Uint8Array(16),
      kind: 'due',
      due: { ...row, what },
    };
  };
  const all = event({ kind: 'overview', for: 'report', until: 0, since: 0, head: null }, null);
  const lately = (await store.load([all], flows))[0]?.overview?.lately ?? [];
  const newest = [...lately].sort((a, b) => b.openedAt - a.openedAt);
  const open = newest.filter((of) => of.status !== 'closed');
  const closed = newest.filter((of) => of.status === 'closed').slice(0, closedAtMost);
  const [due, loaded] = [
    await store.dueBefore(Number.MAX_SAFE_INTEGER, rowsAtMost),
    await store.load(
      open.map(({ id }) => event({ kind: 'overdue', caseId: id }, id)),
      flows,
    ),
  ];
  const ofCase = (id: string): readonly Due[] => due.filter((one) => one.caseId === id);
  return [
    ...open.map((of, index): Matter => {
      const questions = (loaded[index]?.questions ?? []).filter((one) => one.caseId === of.id);
      return { of, questions, due: ofCase(of.id) };
    }),
    ...closed.map((of): Matter => ({ of, questions: [], due: [] })),
  ];
}
