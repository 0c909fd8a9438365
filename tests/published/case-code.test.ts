import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { checkCode, makeCode } from '../../src/case/code.ts';
import { codes, rows } from './mod97-10.ts';

describe('check digits of ISO/IEC 7064 MOD 97-10', () => {
  it.each(codes)('agree with another implementation about %s', (code) => {
    expect(makeCode(code.slice(0, -2))).toBe(code);
    expect(checkCode(code).ok).toBe(true);
  });

  it.each(rows)('agree with another implementation over $what', ({ from, to, step, sha256 }) => {
    const hash = createHash('sha256');
    for (let payload = from; payload <= to; payload += step) {
      const code = makeCode(String(payload));
      if (!checkCode(code).ok) throw new Error(`${code} is refused`);
      hash.update(`${code}\n`);
    }
    expect(hash.digest('hex')).toBe(sha256);
  });

  it('pass for exactly one ending of a hundred', () => {
    for (let payload = 100_000; payload <= 999_999; payload += 4_001) {
      const valid = Array.from({ length: 100 }, (_, n) => `${payload}${String(n).padStart(2, '0')}`).filter(
        (code) => checkCode(code).ok,
      );
      expect(valid).toEqual([makeCode(String(payload))]);
    }
  });

  it.each(['12345676', '10000022', '20314711', '41780908', '99999920', '50000009', '31234583', '10000798', '10007297'])(
    '%s is a code',
    (code) => {
      expect(checkCode(code)).toEqual({ ok: true, code });
    },
  );

  it.each([
    ['one digit wrong', '12345776'],
    ['neighbours swapped', '21345676'],
    ['check digits swapped', '12345667'],
    ['swapped over one', '12543676'],
    ['swapped into the check digits', '12347656'],
    ['twin', '22445516'],
    ['twin over one', '32334507'],
    ['thirty heard as thirteen', '12135615'],
    ['twenty heard as twelve', '12314711'],
    ['eighty heard as eighteen', '41718908'],
    ['ninety heard as nineteen', '40199072'],
    ['01 in place of 98', '10000701'],
    ['00 in place of 97', '10007200'],
  ])('%s: %s is refused', (_, code) => {
    expect(checkCode(code)).toEqual({ ok: false, reason: 'check-digits' });
  });

  it('a slip of two digits can pass, so a code must also exist and match its read-back', () => {
    expect(checkCode('11375676').ok).toBe(true);
  });
});
