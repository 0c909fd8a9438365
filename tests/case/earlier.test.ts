import { describe, expect, it } from 'vitest';
import { earlierOf, sizesSoFar } from '../../src/case/earlier.ts';
import type { Json } from '../../src/case/events.ts';
import { answered, caseOf, opened } from '../support/case-fixture.ts';

const right = (mm: readonly number[], on: string): Json => ({ side: 'right', mm, on });
const now = (earlier: readonly Json[], sites: readonly string[] = ['right']) =>
  caseOf([
    ...opened,
    answered('earlier-sizes', earlier),
    answered(
      'nodules',
      sites.map((_, index) => `n${index + 1}`),
    ),
    ...sites.map((site, index) => answered('site', site, `n${index + 1}`)),
  ]);

describe('the earlier examination of a nodule', () => {
  it('is that of the one nodule of its side', () => {
    const of = now([right([22, 15, 14], '2029-03-04'), { side: 'left', mm: [9, 8, 7], on: '2029-03-04' }]);
    expect(earlierOf(of, 'n1')).toMatchObject({ mm: [22, 15, 14], on: '2029-03-04' });
  });

  it('is the smallest of several, so that slow growth is seen', () => {
    const of = now([right([20, 14, 13], '2028-03-04'), right([22, 15, 14], '2029-03-04')]);
    expect(earlierOf(of, 'n1')?.on).toBe('2028-03-04');
  });

  it.each([
    ['none was ever told', now([])],
    ['the side had two nodules then', now([right([22, 15, 14], '2029-03-04'), right([9, 8, 7], '2029-03-04')])],
    ['the side has two nodules now', now([right([22, 15, 14], '2029-03-04')], ['right', 'right'])],
    ['it was measured by fewer than three sizes', now([right([22], '2029-03-04')])],
    ['it was on the other side', now([right([22, 15, 14], '2029-03-04')], ['left'])],
  ])('is not known where %s', (_what, of) => {
    expect(earlierOf(of, 'n1')).toBeNull();
  });

  it('goes on to the next case with what this one measured', () => {
    const of = caseOf([
      ...opened,
      answered('earlier-sizes', [right([20, 14, 13], '2028-03-04')]),
      answered('nodules', ['n1']),
      answered('mm', [22, 15, 14], 'n1'),
    ]);
    expect(sizesSoFar(of, () => '2030-03-12')).toEqual([
      right([20, 14, 13], '2028-03-04'),
      right([22, 15, 14], '2030-03-12'),
    ]);
  });
});
