import { describe, expect, it } from 'vitest';
import type { Findings, Nodule } from '../../src/clinical/findings.ts';
import { growthOf } from '../../src/clinical/growth.ts';
import { assess } from '../../src/clinical/indication.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { growthBetween } from '../../src/clinical/nodule.ts';

const patient: Findings = {
  patient: { ageYears: 43, sex: 'female' },
  dangerSigns: [],
  risks: [],
  bleeding: [],
  tsh: 'normal',
  examined: true,
  palpable: true,
  guidance: true,
  ultrasound: { done: true, probe: 'linear', mhz: 7.5 },
};
const plain: Nodule = {
  composition: 'solid',
  echogenicity: 'isoechoic',
  hypoechoicPart: false,
  shape: 'wider-than-tall',
  margin: 'smooth',
  capsule: 'intact',
  foci: [],
};
const watched: Nodule = { ...plain, id: 'small', mm: [9.8, 9, 8] };
const grown: Nodule = { ...watched, id: 'grown', earlierMm: [8, 7, 6] };
const big: Nodule = { ...plain, id: 'big', mm: [30, 20, 20] };

describe('growth in the decision', () => {
  // Durante C, et al. JAMA 2015;313:926; Haugen, Thyroid 2016;26:1; Tessler, J Am Coll Radiol 2017;14:587.
  it('of a nodule that would be watched is for the doctor, and is said', () => {
    expect(assess({ ...patient, nodules: [watched] })).toMatchObject({ decision: 'follow-up' });
    const told = assess({ ...patient, nodules: [grown] });
    expect(told.decision).toBe('ask-doctor');
    expect(told.because).toContain('grown');
    expect(told.cautions).toContain('grown');
  });

  it('never weakens a sample', () => {
    const told = assess({ ...patient, nodules: [{ ...big, earlierMm: [20, 12, 12] }] });
    expect(told).toMatchObject({ decision: 'sample' });
    expect(told.cautions).toContain('grown');
  });

  it('of a cyst is said and asks for no doctor: a cyst is drained for symptoms only', () => {
    const told = assess({
      ...patient,
      nodules: [{ id: 'c', composition: 'cystic', mm: [30, 20, 20], earlierMm: [20, 12, 12] }],
    });
    expect(told.decision).toBe('no-sampling');
    expect(told.cautions).toContain('grown');
  });

  it.each<[string, readonly number[], readonly number[], string]>([
    ['three diameters of both', [10, 8, 8], [12, 10, 8], 'grown'],
    ['three diameters of both, in any order', [8, 8, 10], [8, 12, 10], 'grown'],
    ['three diameters of both, unchanged', [22, 15, 14], [22, 16, 14], 'not-grown'],
    ['no earlier size', [], [22, 16, 14], 'not-known'],
    ['two earlier diameters', [22, 15], [30, 30, 30], 'not-known'],
    ['one diameter now', [22, 15, 14], [30], 'not-known'],
  ])('%s', (_what, old, now, growth) => {
    expect(growthBetween(old, now, 'acr')).toBe(growth);
  });

  it('of exactly half the volume is growth for ACR and for the plain rule, not for ATA', () => {
    const nodule = knownNodule({ mm: [30, 20, 20], earlierMm: [20, 20, 20] }, 0);
    expect(growthOf(nodule, 'acr-2017')).toBe('grown');
    expect(growthOf(nodule, 'common-practice')).toBe('grown');
    expect(growthOf(nodule, 'ata-2015')).toBe('not-grown');
  });
});

describe('nodes, several nodules and growth together', () => {
  // Nodes with a lump: urgent, and the node is sampled too. British Thyroid Foundation; Haugen, Thyroid 2016;26:1.
  it('refer urgently for the nodes, sample meanwhile, name the node and say the growth', () => {
    const told = assess({ ...patient, dangerSigns: ['neck-nodes'], nodules: [grown, big] });
    expect(told).toMatchObject({ decision: 'refer-urgent', because: ['neck-nodes'], sampleToo: 'yes' });
    expect(told.cautions).toEqual(expect.arrayContaining(['do-not-delay-referral', 'sample-node-too', 'grown']));
  });

  it('sample beside the nodes even a nodule that its table would only watch', () => {
    expect(assess({ ...patient, dangerSigns: ['neck-nodes'], nodules: [watched] })).toMatchObject({ sampleToo: 'yes' });
  });

  it('growth within weeks is a sign of its own: airway first, whatever the sizes were', () => {
    const told = assess({ ...patient, dangerSigns: ['rapid-growth'], nodules: [watched, big] });
    expect(told.decision).toBe('refer-urgent');
    expect(told.cautions).toEqual(expect.arrayContaining(['airway-first', 'do-not-delay-referral']));
    expect(told.cautions).not.toContain('grown');
  });

  it('nodes stay urgent with every nodule a cyst or none described', () => {
    const cyst: Nodule = { id: 'c', composition: 'cystic', mm: [20, 12, 12] };
    for (const nodules of [[cyst], []]) {
      expect(assess({ ...patient, dangerSigns: ['neck-nodes'], nodules }).decision).toBe('refer-urgent');
    }
  });
});
