/** Which patient table and decision show: the one of the newest open case, or the one that was chosen. */

import type { CaseStrip } from '../strip/strip.ts';
import { byId, el } from './dom.ts';
import type { Say } from './words.ts';

export class PatientChoice {
  private readonly say: Say;
  private readonly changed: () => void;
  private chosen: string | null = null;
  private cases: readonly CaseStrip[] = [];

  constructor(say: Say, changed: () => void) {
    this.say = say;
    this.changed = changed;
  }

  /** Id of the case, null where there is none. */
  get caseId(): string | null {
    const isThere = this.cases.some((one) => one.caseId === this.chosen);
    if (isThere) return this.chosen;
    return (this.cases.find((one) => !one.closed) ?? this.cases[0])?.caseId ?? null;
  }

  /** Offers the choice where there are several patients. */
  show(cases: readonly CaseStrip[]): void {
    this.cases = cases;
    const place = byId('patient');
    if (cases.length < 2) {
      place.replaceChildren();
      return;
    }
    const options = cases.map(({ caseId, tag }) =>
      el('option', { value: caseId, selected: caseId === this.caseId }, tag),
    );
    const select = el('select', {}, ...options);
    select.addEventListener('change', () => {
      this.chosen = select.value;
      this.changed();
    });
    if (place.contains(document.activeElement)) return;
    place.replaceChildren(el('label', {}, this.say('page-which-patient'), ' ', select));
  }
}
