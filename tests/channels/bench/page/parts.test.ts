import { describe, expect, it } from 'vitest';
import words from '../../../../locales/en/bench.json' with { type: 'json' };
import { makeCode } from '../../../../src/case/code.ts';
import type { BenchState, PhonePerson, PhoneText } from '../../../../src/channels/bench/page/contract.ts';
import { heardOf } from '../../../../src/channels/bench/page/heard.ts';
import { pencilled } from '../../../../src/channels/bench/page/pencil.ts';
import { meterText } from '../../../../src/channels/bench/page/phone-meter.ts';
import { rolesText } from '../../../../src/channels/bench/page/roles.ts';
import { useZone, whenText } from '../../../../src/channels/bench/page/times.ts';
import { Unread } from '../../../../src/channels/bench/page/unread.ts';
import { mostUrgent } from '../../../../src/channels/bench/page/urgency.ts';
import { sayOf } from '../../../../src/channels/bench/page/words.ts';

const say = sayOf(words);

const text = (id: string, out: boolean, words = id): PhoneText => ({
  ...{ id, out, at: 0, text: words, held: false, urgency: 'plain' },
});

function phoneOf(name: string, texts: readonly PhoneText[]): PhonePerson {
  const cost = { sentTexts: 0, sentSegments: 0, gotTexts: 0, gotSegments: 0 };
  return { id: name, name, roles: ['worker'], address: `bench:${name}`, net: true, texts, questions: [], cost };
}

function stateOf(...people: readonly PhonePerson[]): BenchState {
  return { now: 0, zone: 'UTC', next: null, words: {}, price: null, people, cases: [], scenario: null };
}

describe('a code pencilled on a slide', () => {
  const code = makeCode('482913');
  const other = makeCode('512309');

  it('is right with or without its spaces', () => {
    expect(pencilled(code, code)).toBe('right');
    expect(pencilled(`${code.slice(0, 4)} ${code.slice(4)}`, code)).toBe('right');
  });

  it('is refused whichever one digit is wrong', () => {
    for (const place of code.split('').keys()) {
      const digits = code.split('');
      digits[place] = String((Number(digits[place]) + 1) % 10);
      expect(pencilled(digits.join(''), code)).toBe('wrong');
    }
  });

  it('is refused when it is the code of another patient', () => {
    expect(pencilled(other, code)).toBe('other');
  });

  it('is not judged before its last digit', () => {
    for (let length = 0; length < code.length; length += 1) {
      expect(pencilled(code.slice(0, length), code)).toBe('unfinished');
    }
  });
});

describe('a screen reader', () => {
  it('hears whose phone got a text, and how many came together', () => {
    const before = stateOf(phoneOf('Ada', [text('a', true)]), phoneOf('Tano', []));
    const after = stateOf(
      phoneOf('Ada', [text('a', true), text('b', false), text('c', true, 'AK: press')]),
      phoneOf('Tano', [text('d', true, 'first'), text('e', true, 'second')]),
    );
    expect(heardOf(after, before, say)).toEqual([
      'Phone of Ada: AK: press',
      'Phone of Tano: 2 texts. The last one: second',
    ]);
  });

  it('hears nothing of what the phone itself sent, nor of what was there', () => {
    const before = stateOf(phoneOf('Ada', [text('a', true)]));
    expect(heardOf(stateOf(phoneOf('Ada', [text('a', true), text('b', false)])), before, say)).toEqual([]);
  });
});

describe('unread texts', () => {
  it('are those to the phone that nobody looked at', () => {
    const unread = new Unread();
    const ada = phoneOf('Ada', [text('a', true), text('b', false), text('c', true)]);
    expect(unread.of(ada).map((one) => one.id)).toEqual(['a', 'c']);
    expect(unread.see([ada.texts[0]!])).toBe(true);
    expect(unread.see([ada.texts[0]!])).toBe(false);
    expect(unread.of(ada).map((one) => one.id)).toEqual(['c']);
  });

  it('are none before what the phone itself has sent', () => {
    const unread = new Unread();
    const ada = phoneOf('Ada', [text('d', true), text('e', true), text('f', false), text('g', true)]);
    expect(unread.seeAnswered(ada)).toBe(true);
    expect(unread.seeAnswered(ada)).toBe(false);
    expect(unread.of(ada).map((one) => one.id)).toEqual(['g']);
  });
});

describe('what stands on a phone', () => {
  it('counts texts and segments, and money for both ways where there is a price', () => {
    const cost = { sentTexts: 2, sentSegments: 3, gotTexts: 4, gotSegments: 5 };
    expect(meterText(cost, null, say)).toBe('2 sent (3 SMS), 4 got (5 SMS)');
    const price = { currency: 'XTS', perSegmentOut: 0.1, perSegmentIn: 0.01 };
    expect(meterText(cost, price, say)).toBe('2 sent (3 SMS), 4 got (5 SMS) = 0.53 XTS');
  });

  it('names what somebody is on the line', () => {
    expect(rolesText(['doctor', 'coordinator'], say)).toBe('doctor, coordinator');
  });

  it('marks the most urgent of several texts', () => {
    expect(mostUrgent(['plain', 'today', 'now'])).toBe('now');
    expect(mostUrgent(['plain', 'today'])).toBe('today');
    expect(mostUrgent([])).toBe('plain');
  });

  it('writes the day beside a time of another day', () => {
    useZone('Africa/Nairobi');
    const now = Date.parse('2030-03-04T06:05:00Z');
    expect(whenText(now, now)).toBe('09:05');
    expect(whenText(now - 24 * 3_600_000, now)).toBe('Sun 3 Mar 09:05');
  });
});
