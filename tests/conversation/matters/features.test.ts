import { describe, expect, it } from 'vitest';
import { readers } from '../../../src/conversation/matters/findings-readers.ts';
import { momentOf, said } from './moment-of.ts';

const none = { id: 'none', reply: '0' };
const unknown = { id: 'unknown', reply: '9' };
const looks = [
  ...['hypoechoic', 'very-hypoechoic', 'taller-than-wide', 'irregular', 'invaded'].map((id, place) => ({
    id,
    reply: String(place + 1),
  })),
  none,
  unknown,
];
const bright = [
  ...['punctate', 'macrocalcification', 'rim-calcification'].map((id, place) => ({ id, reply: String(place + 6) })),
  { id: 'none', reply: '30' },
  unknown,
];
type Probe = 'linear' | 'other';

/** A lump seen by this probe, and what was answered of it before. */
function lump(probe: Probe, options: typeof looks, before: readonly ReturnType<typeof said>[]) {
  const opened = { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false } as const;
  const events = [opened, said('ultrasound.done', true), said('ultrasound.probe', probe), ...before];
  return momentOf(events, { item: 'n1', field: 'features', options });
}

/** What a reply about the look of a nodule says of each feature. */
function seen(reply: string, probe: Probe = 'linear', ...before: readonly ReturnType<typeof said>[]): unknown {
  const read = readers.looks!(reply, lump(probe, looks, before));
  return read.ok ? read.value.fields : read;
}

/** What a reply says that shines in it. */
function shining(reply: string, probe: Probe = 'linear', ...before: readonly ReturnType<typeof said>[]): unknown {
  const read = readers.bright!(reply, lump(probe, bright, before));
  return read.ok ? read.value.value : read;
}

const plain = {
  echogenicity: 'isoechoic',
  hypoechoicPart: false,
  shape: 'wider-than-tall',
  margin: 'smooth',
  capsule: 'intact',
};

describe('what is not named of a nodule', () => {
  it('is absent when a good probe saw all of it', () => {
    expect(seen('0')).toMatchObject(plain);
    expect(seen('14')).toMatchObject({ ...plain, echogenicity: 'hypoechoic', margin: 'irregular' });
    expect(shining('30')).toEqual([]);
    expect(shining('6')).toEqual(['punctate']);
  });

  it('is unknown, all of it, when the rest is not to be seen', () => {
    const rest = { hypoechoicPart: 'unknown', shape: 'unknown', margin: 'unknown', capsule: 'unknown' };
    expect(seen('9')).toMatchObject({ ...rest, echogenicity: 'unknown' });
    expect(seen('39')).toMatchObject({ ...rest, shape: 'taller-than-wide' });
    expect(shining('9')).toEqual(['unknown']);
    expect(shining('69')).toEqual(['punctate', 'unknown']);
  });

  it('is unknown where a weak probe cannot show it, save shape and gross extension', () => {
    const fine = { echogenicity: 'unknown', hypoechoicPart: 'unknown', margin: 'unknown' };
    expect(seen('0', 'other')).toMatchObject({ ...fine, shape: 'wider-than-tall', capsule: 'intact' });
    expect(shining('30', 'other')).toEqual(['unknown']);
  });
});

describe('what is named of a nodule', () => {
  it.each(['linear', 'other'] as const)('counts whatever the probe: %s', (probe) => {
    expect(seen('235', probe)).toMatchObject({
      echogenicity: 'very-hypoechoic',
      shape: 'taller-than-wide',
      capsule: 'invaded',
    });
    expect(shining('7', probe)).toEqual(
      probe === 'linear' ? ['macrocalcification'] : ['macrocalcification', 'unknown'],
    );
  });

  it('stays named when the question is asked once more and the answer is "cannot see all"', () => {
    expect(seen('9', 'linear', said('features', ['irregular'], 'n1'))).toMatchObject({ margin: 'irregular' });
    expect(shining('9', 'linear', said('foci', ['punctate'], 'n1'))).toEqual(['punctate', 'unknown']);
    expect(seen('0', 'linear', said('features', ['irregular'], 'n1'))).toMatchObject({ margin: 'smooth' });
  });
});

describe('bright spots are denied by their own number alone', () => {
  it.each(['0', 'none', 'nothing', ' 0 '])('%j is asked again', (reply) => {
    expect(shining(reply)).toEqual({ ok: false, reason: 'own-none' });
  });
});
