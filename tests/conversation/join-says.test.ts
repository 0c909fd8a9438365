import { describe, expect, it } from 'vitest';
import type { Said } from '../../src/conversation/effect.ts';
import { joinSays } from '../../src/conversation/join-says.ts';

const said = (text: string, subject?: string): Said =>
  ({
    text,
    to: { channel: 'sms', address: '+000555010001' },
    lane: 'reply',
    caseId: 'c',
    ask: null,
    ...(subject === undefined ? {} : { subject }),
  }) as unknown as Said;

const joined = (...says: readonly Said[]): readonly Said[] =>
  joinSays({ says } as unknown as Parameters<typeof joinSays>[0]).says;

describe('texts that go out as one', () => {
  it('a statement beside its question stays when the question is asked anew', () => {
    const [one, ...others] = joined(said('AK: noted.'), said('AK: breathing. 1 noisy', 'ask 7'));
    expect(others).toEqual([]);
    expect(one).toMatchObject({ text: 'AK: noted.\nAK: breathing. 1 noisy', replaces: ['ask 7'] });
    expect(one).not.toHaveProperty('subject');
  });

  it('what is offered with a question, and its own screens, go when it is asked anew: half a question is misread', () => {
    expect(joined(said('AK: SAY gives words.', 'ask 7 offer'), said('AK: or 44 hands clean', 'ask 7'))).toMatchObject([
      { text: 'AK: SAY gives words.\nAK: or 44 hands clean', subject: 'ask 7' },
    ]);
    expect(joined(said('AK: all done?', 'ask 7 screen 1'), said('AK: SAY gives words.', 'ask 7 offer'))).toMatchObject([
      { subject: 'ask 7 screen 1' },
    ]);
    expect(joined(said('AK: all done?', 'ask 7 screen 1'), said('AK: or 44', 'ask 7'))).toMatchObject([
      { subject: 'ask 7' },
    ]);
  });

  it('two questions are about two things', () => {
    const [one] = joined(said('AK: what do you have?', 'ask 7 screen 1'), said('BK: breathing', 'ask 8'));
    expect(one).not.toHaveProperty('subject');
    expect(one).toMatchObject({ replaces: ['ask 7 screen 1', 'ask 8'] });
  });
});
