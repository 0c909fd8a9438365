/**
 * What a change writes, worked out before its transaction begins: sealing is slow and needs no lock, and a group of
 * statements without anything in between runs faster.
 */
import type { Ended } from './dialects/dialect.ts';
import type { Memory } from './memory.ts';
import { type Call, call, type Statement, type Steps } from './statement.ts';

interface Write {
  readonly call: Call;
  /** How the change ends when not exactly one row was written; null = any count will do. */
  readonly otherwise: Exclude<Ended, 'committed'> | null;
}

/** Writes in their order. */
export class Plan {
  readonly writes: Write[] = [];
  /** What is remembered once the plan is committed. */
  readonly onceKept: ((memory: Memory) => void)[] = [];

  /** Adds a write that must meet exactly one row. */
  must<Values>(statement: Statement<Values, never>, values: Values, otherwise: Exclude<Ended, 'committed'>): void {
    this.writes.push({ call: call(statement, values), otherwise });
  }

  /** Adds a write that may meet any number of rows. */
  may<Values>(statement: Statement<Values, never>, values: Values): void {
    this.writes.push({ call: call(statement, values), otherwise: null });
  }

  /** Runs the writes until one of them meets other rows than it must. */
  *perform(): Steps<Ended> {
    for (const write of this.writes) {
      const changed = yield write.call;
      if (write.otherwise !== null && changed !== 1) return write.otherwise;
    }
    return 'committed';
  }
}
