/** Which case is of which invented patient: bound when a worker's text opens it. */
import type { Case } from '../../../src/case/case.ts';
import type { Recorded } from '../transcript.ts';
import type { Truth } from '../truth.ts';

/** Somebody who comes to look again is seen by another worker so often at most: each case of it asks to look again. */
const mostElsewhere = 4;

export class Patients {
  private readonly elsewhere = new Map<Truth, number>();
  private readonly byCase = new Map<string, Truth>();
  private readonly waiting = new Map<string, Truth[]>();

  /** A worker is about to open a case of this patient. */
  expect(worker: string, truth: Truth): void {
    this.waiting.set(worker, [...(this.waiting.get(worker) ?? []), truth]);
  }

  /** The patient whose case this worker opens next: the one who came last. */
  expected(worker: string): Truth | null {
    return this.waiting.get(worker)?.at(-1) ?? null;
  }

  /** Whether this patient goes to somebody else of the site once more. */
  goesElsewhere(truth: Truth): boolean {
    const times = (this.elsewhere.get(truth) ?? 0) + 1;
    this.elsewhere.set(truth, times);
    return times <= mostElsewhere;
  }

  of(caseId: string | null): Truth | null {
    return caseId === null ? null : (this.byCase.get(caseId) ?? null);
  }

  /** Binds a case that was opened by this record: whoever was begun and left again, and has other initials, is not of it. */
  bind(recorded: Recorded): void {
    const waiting = this.waiting.get(recorded.by) ?? [];
    const { event } = recorded.record;
    const initials = event.type === 'opened' ? /^\p{L}*/u.exec(event.tag)![0] : '';
    const truth = waiting.findLast((one) => one.initials === initials);
    if (truth) waiting.splice(waiting.lastIndexOf(truth), 1);
    const before = this.of(earlier(recorded.after));
    const bound = truth ?? before;
    if (bound) this.byCase.set(recorded.caseId, bound);
  }
}

const earlier = (of: Case): string | null => of.earlierCaseId;
