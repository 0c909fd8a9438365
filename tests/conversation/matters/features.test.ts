import { describe, expect, it } from 'vitest';
import { readers } from '../../../src/conversation/matters/findings-readers.ts';
import { momentOf, said } from './moment-of.ts';

const ids = [
  'hypoechoic',
  'very-hypoechoic',
  'taller-than-wide',
  'irregular',
  'invaded',
  'punctate',
  'macrocalcification',
  'rim-calcification',
] as const;
const options = [
  ...ids.map((id, place) => ({ id, reply: String(place + 1) })),
  { id: 'none', reply: '0' },
  { id: 'unknown', reply: '9' },
];

/** What a reply about the look of a nodule says of each feature. */
function seen(reply: string, probe: 'linear' | 'other' = 'linear'): unknown {
  const opened = { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false } as const;
  const moment = momentOf([opened, said('ultrasound.done', true), said('ultrasound.probe', probe)], {
    item: 'n1',
    field: 'features',
    options,
  });
  const read = readers.features!(reply, moment);
  return read.ok ? read.value.fields : read;
}

const plain = {
  echogenicity: 'isoechoic',
  hypoechoicPart: false,
  shape: 'wider-than-tall',
  margin: 'smooth',
  capsule: 'intact',
  foci: [],
};

describe('what is not named of a nodule', () => {
  it('is absent when a good probe saw all of it', () => {
    expect(seen('0')).toMatchObject(plain);
    expect(seen('14')).toMatchObject({ ...plain, echogenicity: 'hypoechoic', margin: 'irregular' });
  });

  it('is unknown, all of it, when the rest is not to be seen', () => {
    const rest = { hypoechoicPart: 'unknown', shape: 'unknown', margin: 'unknown', capsule: 'unknown' };
    expect(seen('9')).toMatchObject({ ...rest, echogenicity: 'unknown', foci: ['unknown'] });
    expect(seen('69')).toMatchObject({ ...rest, echogenicity: 'unknown', foci: ['punctate', 'unknown'] });
  });

  it('is unknown where a weak probe cannot show it, save shape and gross extension', () => {
    const fine = { echogenicity: 'unknown', hypoechoicPart: 'unknown', margin: 'unknown', foci: ['unknown'] };
    expect(seen('0', 'other')).toMatchObject({ ...fine, shape: 'wider-than-tall', capsule: 'intact' });
  });
});

describe('what is named of a nodule', () => {
  it.each(['linear', 'other'] as const)('counts whatever the probe: %s', (probe) => {
    expect(seen('2357', probe)).toMatchObject({
      echogenicity: 'very-hypoechoic',
      shape: 'taller-than-wide',
      capsule: 'invaded',
    });
    expect(seen('7', probe)).toMatchObject({
      foci: probe === 'linear' ? ['macrocalcification'] : ['macrocalcification', 'unknown'],
    });
  });
});
