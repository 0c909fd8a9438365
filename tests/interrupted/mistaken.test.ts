import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { registry } from '../../src/conversation/matters.ts';
import type { Registry } from '../../src/conversation/moment.ts';
import { hole, playInterrupted } from './interrupted.ts';

const lines = readFileSync(new URL('../conversations/thy2.play', import.meta.url), 'utf8').split('\n');

describe('a play that others interrupt', () => {
  it.each([
    'Q38 WAITING AK F 1982, ORUMA CLINIC. Before the needle: . Seen: felt R.',
    'Q43 BO M 1990, ORUMA CLINIC. Why: , no needle was in.',
    'Q48 , ORUMA CLINIC: asked 4 MAR 11:00, not settled yet: the clinic asks you.',
    '2501 8532: you sent BAD, but  of  is filed. Does that result count?',
    'AK: undefined mm',
  ])('has a hole in "%s"', (text) => {
    expect(text).toMatch(hole);
  });

  it('shows a text that the line sets aside', async () => {
    const broken: Registry = {
      ...registry,
      recorders: new Map([
        ...registry.recorders,
        [
          'aftercare-done',
          () => {
            throw new Error('a bug');
          },
        ],
      ]),
    };
    expect(await playInterrupted(lines, 3)).toEqual([]);
    expect((await playInterrupted(lines, 3, broken)).join('\n')).toContain('step-failed');
  });
});
