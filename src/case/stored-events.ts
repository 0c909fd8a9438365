/** Events as earlier versions of the line stored them, read as what they are now. */
import { focusKinds } from '../clinical/findings.ts';
import type { Proposed } from '../clinical/proposed.ts';
import type { Case } from './case.ts';
import type { CaseEvent, CaseHappening } from './events.ts';
import { feltSide, sideSaid, sizesOf, type Target } from './target.ts';

type Issued = Extract<CaseEvent, { readonly type: 'code-issued' }>;
type IssuedBefore = Omit<Issued, 'target'> & { readonly nodule: string };

/** The record as it would be written today. Pure; the same object where nothing has changed. */
export function asToday(record: CaseHappening, before: Case): CaseHappening {
  const { event } = record;
  if (event.type === 'code-issued' && !('target' in event)) {
    const { nodule, ...rest } = event as IssuedBefore;
    return { ...record, event: { ...rest, target: targetOfNodule(before, nodule) } };
  }
  if (event.type === 'decided' && event.proposed.some((one: unknown) => typeof one === 'string')) {
    const proposed = (event.proposed as readonly unknown[]).map((one) => proposedNodule(before, String(one)));
    return { ...record, event: { ...event, proposed } };
  }
  if (event.type === 'answered' && event.field === 'features' && Array.isArray(event.value)) {
    const value = event.value.filter((one) => !(focusKinds as readonly unknown[]).includes(one));
    // Until what shines was asked by itself, both were one list; what was seen to shine stands under `foci` too.
    if (value.length < event.value.length)
      return { ...record, event: { ...event, value: value.length > 0 ? value : ['none'] } };
  }
  return record;
}

/** A proposal that was the id of a lump alone. */
export function proposedNodule(of: Case, nodule: string): Proposed {
  const mm = sizesOf(of, nodule);
  return { kind: 'nodule', nodule, site: sideSaid(of, nodule), mm: mm[0] ?? null };
}

/**
 * The lump of a code that was issued before a code needed a side: as it was measured, else as it was felt. Where neither
 * says one, that version wrote RIGHT on the jar, and the record says what the jar says.
 */
function targetOfNodule(of: Case, nodule: string): Target {
  const side = sideSaid(of, nodule) ?? feltSide(of) ?? 'right';
  return { kind: 'nodule', nodule, side, mm: sizesOf(of, nodule), place: null };
}
