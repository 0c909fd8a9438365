import { describe, expect, it } from 'vitest';
import type { CaseEvent, Json } from '../../../src/case/events.ts';
import type { TumourType } from '../../../src/clinical/cytology/result-words.ts';
import { contradiction, resultKind, reviewOf, samplesSoFar } from '../../../src/conversation/matters/result-kind.ts';
import { answered, caseOf, filed, labelled, opened } from '../../support/case-fixture.ts';
import { proposals } from '../../support/targets.ts';

const base = [...opened, ...labelled('s1', 'n1', '48291354')];

/** A result of which the words name a type. */
function named(specimen: string, code: string, types: readonly TumourType[]): CaseEvent {
  const event = filed(specimen, code, code);
  if (event.type !== 'result-filed') throw new Error('not filed');
  return { ...event, result: { ...event.result, types } };
}

/** The case decided on a nodule whose levels are these. */
function decidedOn(acr: string, eu: string, ata: string): CaseEvent {
  const levels = (level: string): Json => ({ decision: 'sample', decisions: ['sample'], levels: level.split('|') });
  const policies = { 'acr-2017': levels(acr), 'eu-2017': levels(eu), 'ata-2015': levels(ata) };
  const assessment = { nodules: [{ id: 'n1', policies }] };
  return { type: 'decided', decision: 'sample', policy: 'common-practice', assessment, proposed: proposals('n1') };
}

describe('which way a result goes on', () => {
  it.each([
    ['Thy1', 'Thy1', 'repeat'],
    ['Thy1c', 'Thy1c', 'repeat'],
    ['Bethesda I', 'Thy1/1c', 'repeat'],
    ['Thy2', 'Thy2', 'benign'],
    ['Bethesda II', 'Thy2/2c', 'benign'],
    ['Thy3a', 'Thy3a', 'refer'],
    ['Bethesda IV', 'Thy3f', 'refer'],
    ['Bethesda V', 'Thy4', 'urgent'],
    ['Thy5', 'Thy5', 'urgent'],
  ])('%s (%s): %s', (code, canonical, kind) => {
    expect(resultKind(caseOf([...base, filed('s1', code, canonical)]), 's1')).toBe(kind);
  });

  it.each([
    ['TR5', '4', 'intermediate', 'discordant'],
    ['TR4', '5', 'intermediate', 'discordant'],
    ['TR4', '4', 'high', 'discordant'],
    ['TR4', '4', 'intermediate', 'benign'],
    ['TR4|TR5', '4', 'intermediate', 'benign'],
  ])('Thy2 of ACR %s, EU %s, ATA %s: %s', (acr, eu, ata, kind) => {
    const of = caseOf([...base, decidedOn(acr, eu, ata), filed('s1', 'Thy2', 'Thy2')]);
    expect(resultKind(of, 's1')).toBe(kind);
  });

  it('Thy2 does not reassure where there are danger signs', () => {
    const of = caseOf([...base, answered('dangerSigns', ['hard-or-fixed']), filed('s1', 'Thy2', 'Thy2')]);
    expect(resultKind(of, 's1')).toBe('discordant');
  });

  it.each([
    ['right', 'Thy1', 'second'],
    ['left', 'Thy1', 'repeat'],
    [null, 'Thy1', 'second'],
    ['right', 'Thy2', 'repeat'],
  ])('Thy1 after an earlier sample of the %s side with %s: %s', (side, canonical, kind) => {
    const of = caseOf([...base, answered('earlier', [{ side, canonical }]), filed('s1', 'Thy1', 'Thy1')]);
    expect(resultKind(of, 's1')).toBe(kind);
  });

  it.each([
    ['right', 'Thy3a', 'second-atypia'],
    ['left', 'Thy3a', 'refer'],
    ['right', 'Thy1', 'refer'],
  ])('Thy3a after an earlier sample of the %s side with %s: %s', (side, canonical, kind) => {
    const of = caseOf([...base, answered('earlier', [{ side, canonical }]), filed('s1', 'Thy3a', 'Thy3a')]);
    expect(resultKind(of, 's1')).toBe(kind);
  });

  it.each([
    ['Thy1', 'urgent'],
    ['Thy2', 'discordant'],
    ['Thy3a', 'urgent'],
    ['Thy3f', 'urgent'],
    ['Thy4', 'urgent'],
  ])('%s with a type that the laboratory names: %s, never calmer', (code, kind) => {
    const of = caseOf([...base, named('s1', code, ['lymphoma'])]);
    expect(resultKind(of, 's1')).toBe(kind);
  });

  it.each([
    ['upper', 'lower', 'repeat'],
    ['upper', 'upper', 'second'],
    [null, 'lower', 'second'],
    ['upper', undefined, 'second'],
  ] as const)('Thy1 of the %s lump of a side after one of its %s lump: %s', (place, spot, kind) => {
    const target = { kind: 'nodule', nodule: 'n1', side: 'right', mm: [22], place } as const;
    const earlier = [{ side: 'right', canonical: 'Thy1', ...(spot === undefined ? {} : { spot }) }];
    const issued: CaseEvent = {
      type: 'code-issued',
      specimen: 's1',
      target,
      code: '48291354',
      technique: 'capillary',
      slides: 4,
    };
    const of = caseOf([...opened, issued, answered('earlier', earlier), filed('s1', 'Thy1', 'Thy1')]);
    expect(resultKind(of, 's1')).toBe(kind);
  });

  it('a corrected Thy1 is not a second sample', () => {
    const of = caseOf([...base, filed('s1', 'Thy1', 'Thy1'), filed('s1', 'Thy1c', 'Thy1c', 0)]);
    expect(resultKind(of, 's1')).toBe('repeat');
    expect(of.specimens[0]?.results).toHaveLength(2);
  });

  it('another needle knows every sample before it', () => {
    const of = caseOf([
      ...base,
      answered('earlier', [{ side: 'left', canonical: 'Thy1' }]),
      filed('s1', 'Thy1', 'Thy1'),
    ]);
    expect(samplesSoFar(of, (at) => `day of ${at}`)).toEqual([
      { side: 'left', canonical: 'Thy1' },
      { side: 'right', canonical: 'Thy1', on: `day of ${of.specimens[0]?.results[0]?.at}` },
    ]);
  });
});

describe('a benign lump is looked at again by what was seen', () => {
  it.each([
    ['very-low', true, 'very-low'],
    ['intermediate', true, 'low-or-intermediate'],
    ['low|high', true, 'unknown'],
    ['very-low', false, 'unknown'],
  ])('%s, scanned %s: %s', (ata, scanned, pattern) => {
    const seen = [decidedOn('TR3', '3', ata), answered('ultrasound.done', scanned)];
    expect(reviewOf(caseOf([...base, ...seen, filed('s1', 'Thy2', 'Thy2')]), 's1').pattern).toBe(pattern);
  });
});

describe('growth against a benign needle', () => {
  const before = [{ side: 'right', mm: [15, 10, 10], on: '2029-03-04' }];
  const again: CaseEvent = {
    type: 'opened',
    tag: 'TN',
    siteId: 'oruma',
    ownerId: 'w',
    practice: false,
    earlierCaseId: 'before',
  };

  it.each([
    [[22, 15, 14], 'yes'],
    [[15, 10, 10], 'no'],
    [[22], 'possible'],
  ])('15x10x10 and now %j: it contradicts: %s', (mm, contradicts) => {
    const of = caseOf([
      again,
      ...base.slice(1),
      answered('nodules', ['n1']),
      answered('earlier-sizes', before),
      answered('mm', mm, 'n1'),
      filed('s1', 'Thy2', 'Thy2'),
    ]);
    expect(contradiction(of, 's1')).toBe(contradicts);
    expect(resultKind(of, 's1')).toBe(contradicts === 'yes' ? 'discordant' : 'benign');
  });
});
