import { describe, expect, it } from 'vitest';
import { againstNeedle } from '../../src/clinical/against-needle.ts';
import type { Findings } from '../../src/clinical/findings.ts';
import type { Proposed } from '../../src/clinical/proposed.ts';

const ready: Findings = {
  patient: { ageYears: 51, sex: 'male' },
  dangerSigns: [],
  lump: [],
  risks: [],
  bleeding: [],
  tsh: 'normal',
  examined: true,
  palpable: true,
  guidance: false,
  ultrasound: { done: true, probe: 'linear' },
  nodules: [{ id: 'n1', site: 'left', mm: [26, 20, 18], palpable: true }],
};
const lump: Proposed = { kind: 'nodule', nodule: 'n1', site: 'left', mm: 26 };

describe('what stands against a needle that a doctor would allow', () => {
  it('nothing, where all was asked and nothing was found', () => {
    expect(againstNeedle(ready, lump)).toEqual([]);
  });

  it('every stop is named, also those that stand behind another', () => {
    const found: Findings = { ...ready, risks: ['family-medullary'], bleeding: ['bleeding-disorder'], tsh: 'low' };
    expect(againstNeedle(found, lump)).toEqual(
      expect.arrayContaining(['family-medullary', 'bleeding-disorder', 'low-tsh-without-scan']),
    );
  });

  it('what was not asked is no "no"', () => {
    const { bleeding: _bleeding, risks: _risks, ...unasked } = ready;
    expect(againstNeedle(unasked, lump)).toEqual(expect.arrayContaining(['bleeding-unknown', 'risks-unknown']));
  });

  it('a lump that is not felt, at a site without guidance', () => {
    const unfelt: Findings = { ...ready, nodules: [{ id: 'n1', site: 'left', mm: [26, 20, 18], palpable: false }] };
    expect(againstNeedle(unfelt, lump)).toEqual(['impalpable-without-guidance']);
    expect(againstNeedle({ ...unfelt, guidance: true }, lump)).toEqual([]);
  });

  it('an INR counts for as many hours as the programme says', () => {
    const onWarfarin: Findings = {
      ...ready,
      bleeding: ['warfarin'],
      inr: 2.4,
      inrAgeHours: 100,
      changedSinceInr: false,
    };
    expect(againstNeedle(onWarfarin, lump)).toEqual(['inr-too-old']);
    expect(againstNeedle(onWarfarin, lump, 168)).toEqual([]);
  });
});
