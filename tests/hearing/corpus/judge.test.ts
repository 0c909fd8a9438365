import { beforeAll, describe, expect, it } from 'vitest';
import type { StepResult } from '../../../src/conversation/effect.ts';
import { wrongWith } from './everywhere.ts';
import { givenOptions, mayAnswer } from './given.ts';
import { gotFirstAid, missed } from './outcome.ts';
import { heardAt, type Place, placesOf } from './places.ts';
import { secondTag, withSecond } from './second-patient.ts';
import { fileOf } from './ways.ts';

let story: Place;
let both: Place;

beforeAll(async () => {
  const script = fileOf('hearing/corpus/ways/second-patient.play');
  const kept = await placesOf(script, new Set(['new.story', 'sampling.report']));
  const asked = await placesOf(fileOf('conversations/straight.play'), new Set(['new.story']));
  story = asked.get('new.story')!;
  both = withSecond(story, kept.get('sampling.report')!)!;
});

/** What came of `heard`, as if it had been caused by `text`. */
const asIfSaid = (place: Place, text: string, heard: string, more: Partial<StepResult> = {}): string | null =>
  wrongWith(place, text, { ...heardAt(place, heard), ...more });

describe('the judge of the corpus', () => {
  it('lets a plain answer and a text that is asked back pass', () => {
    expect(asIfSaid(story, '1', '1')).toBeNull();
    expect(asIfSaid(story, 'thank you', 'thank you')).toBeNull();
  });

  it('sees silence, and an answer that names nobody', () => {
    expect(asIfSaid(story, 'thank you', 'thank you', { says: [] })).toBe('nothing came back');
    const [said] = heardAt(story, 'thank you').says;
    const nameless = { ...said!, text: 'That is not one of the answers.', ask: null };
    expect(asIfSaid(story, 'thank you', 'thank you', { says: [nameless] })).toMatch(/^names nobody/);
  });

  it('sees what was put down without being said', () => {
    expect(asIfSaid(story, 'thank you', '1')).toMatch(/^put down/);
    expect(asIfSaid(story, '1', '2')).toBe('put down swallowing by itself');
  });

  it('sees a change of somebody else', () => {
    expect(asIfSaid(both, `${secondTag} 11`, `${secondTag} 11`)).toBeNull();
    expect(asIfSaid(both, 'thank you', `${secondTag} 11`)).toMatch(/^changed ZO/);
  });

  it('knows first aid from any other answer', () => {
    expect(gotFirstAid(story, heardAt(story, 'SOS'))).toBe(true);
    expect(gotFirstAid(story, heardAt(story, 'so'))).toBe(false);
  });

  it('holds what came of a text against the table', () => {
    const at = { at: 'new.story', two: false };
    expect(
      missed(story, { ...at, text: '12', is: { kind: 'heard-as', ids: ['voice-change', 'swallowing'] } }),
    ).toBeNull();
    expect(missed(story, { ...at, text: '12', is: { kind: 'heard-as', ids: ['voice-change'] } })).toMatch(/recorded/);
    expect(missed(story, { ...at, text: '12', is: { kind: 'asked-back' } })).toMatch(/recorded/);
    expect(missed(story, { ...at, text: 'maybe', is: { kind: 'asked-back' } })).toBeNull();
    expect(missed(story, { ...at, text: 'SOS', is: { kind: 'asked-back' } })).toMatch(/recorded/);
    expect(missed(story, { ...at, text: 'list', is: { kind: 'command', word: 'LIST' } })).toBeNull();
    expect(missed(story, { ...at, text: 'maybe', is: { kind: 'exit', word: 'NOWORD' } })).toMatch(/recorded/);
  });

  it('reads at the most what digits and words of an option can give', () => {
    const ask = story.world.conversation.threads.at(-1)!.ask!;
    expect([...givenOptions(ask, '1 and hoarse')]).toEqual(['voice-change']);
    expect([...givenOptions(ask, '12')]).toEqual(['voice-change', 'swallowing']);
    expect([...givenOptions(ask, 'thank you')]).toEqual([]);
    expect(mayAnswer(ask, 'maybe')).toBe(false);
  });
});
