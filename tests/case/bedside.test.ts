import { describe, expect, it } from 'vitest';
import { needleStatuses, sittingStatuses, visitStatuses } from '../../src/case/bedside.ts';

describe('the patient is here', () => {
  it('from the first attempt to the end of the watch a needle is in or was just out', () => {
    expect([...needleStatuses]).toEqual(['sampling', 'labelling', 'aftercare']);
  });

  it('the sitting for the needle begins when the patient is made ready', () => {
    expect([...sittingStatuses]).toEqual(['readiness', ...needleStatuses]);
  });

  it('the visit begins with the findings and ends before the parcel', () => {
    expect([...visitStatuses]).toEqual(['findings', 'decision', ...sittingStatuses]);
  });
});
