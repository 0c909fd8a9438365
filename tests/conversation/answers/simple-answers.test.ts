import { describe, expect, it } from 'vitest';
import { type CodeChecker, readCode } from '../../../src/conversation/answers/code.ts';
import { foldInitials, readConfirmation } from '../../../src/conversation/answers/confirmation.ts';
import { readNumber } from '../../../src/conversation/answers/number.ts';
import { readText } from '../../../src/conversation/answers/text.ts';

describe('a number', () => {
  const inr = { min: 0.5, max: 20, decimals: 1, units: ['inr'] };
  it.each([
    ['2.8', 2.8],
    ['2,8', 2.8],
    ['٢٫٨', 2.8],
    ['3', 3],
    ['2.8 INR', 2.8],
    ['2.8.', 2.8],
  ])('is read from %j', (text, value) => {
    expect(readNumber(text, inr)).toEqual({ ok: true, value });
  });

  it.each([
    ['two.8', 'not-a-number'],
    ['2.8.1', 'not-a-number'],
    ['<2', 'not-a-number'],
    ['2.8 mm', 'not-a-number'],
    ['2 3', 'not-a-number'],
    ['½', 'not-a-number'],
    ['1,500', 'too-many-decimals'],
    ['-2', 'out-of-range'],
    ['28', 'out-of-range'],
    ['', 'empty'],
  ])('is asked again for %j', (text, reason) => {
    expect(readNumber(text, inr)).toEqual({ ok: false, reason });
  });
});

describe('free words', () => {
  it('are trimmed and keep their lines', () => {
    expect(readText('  lump is\r\nharder\u0000 now ', 100)).toEqual({ ok: true, value: 'lump is\nharder  now' });
  });
  it('have a limit in characters, not in bytes', () => {
    expect(readText('👍'.repeat(10), 10).ok).toBe(true);
    expect(readText('👍'.repeat(11), 10)).toEqual({ ok: false, reason: 'too-long' });
    expect(readText(' \u0007 ', 10)).toEqual({ ok: false, reason: 'empty' });
  });
});

describe('a code', () => {
  // Stands in for the real check digits: eight digits, not 48291345.
  const check: CodeChecker = (text) => {
    const code = text.replace(/[\s-]/g, '');
    if (!/^\d{8}$/.test(code)) return { ok: false, reason: 'bad-code-length' };
    return code === '48291345' ? { ok: false, reason: 'bad-code-check' } : { ok: true, code };
  };
  it.each(['48291354', '4829 1354', '4829-1354', '4829–1354', '٤٨٢٩ ١٣٥٤', ' 48291354. '])(
    'is read from %j',
    (text) => {
      expect(readCode(text, check)).toEqual({ ok: true, value: '48291354' });
    },
  );
  it.each([
    ['48291345', 'bad-code-check'],
    ['4829135', 'bad-code-length'],
    ['4829I354', 'bad-code-length'],
    ['', 'empty'],
  ])('is refused for %j', (text, reason) => {
    expect(readCode(text, check)).toEqual({ ok: false, reason });
  });
});

describe('a confirmation', () => {
  const yes = (challenge: string | null, second: string | null) => ({ answer: 'yes', challenge, second });
  it.each([
    ['YES', yes(null, null)],
    ['yes 4718', yes('4718', null)],
    ['YES 4718 1982', yes('4718', '1982')],
    ['Yes, 4718, 1982.', yes('4718', '1982')],
    ['YES ٤٧١٨ ١٩٨٢', yes('4718', '1982')],
    ['YES 4718 ak', yes('4718', 'AK')],
    ['YES 4718 A.K.', yes('4718', 'AK')],
    ['YES 4718 ék', yes('4718', 'EK')],
    ['SÍ 4718 1982', yes('4718', '1982')],
    ['NO', { answer: 'no' }],
    ['no, wrong slide 4718', { answer: 'no' }],
  ])('is read from %j', (text, value) => {
    expect(readConfirmation(text, { yes: ['si'], no: [] })).toEqual({ ok: true, value });
  });

  it.each([
    ['4718 1982', 'not-an-option'],
    ['YES NO', 'not-an-option'],
    ['NO YES 4718', 'not-an-option'],
    ['YESNO', 'not-an-option'],
    ['YES 471 1982', 'not-a-challenge'],
    ['YES 48291354', 'not-a-challenge'],
    ['YES 4718 19', 'not-a-challenge'],
    ['YES 4718 1982 4829', 'not-a-challenge'],
    ['', 'empty'],
  ])('is unreadable, and so no wrong number, in %j', (text, reason) => {
    expect(readConfirmation(text)).toEqual({ ok: false, reason });
  });

  it('compares initials without accents', () => {
    expect(foldInitials('Ék')).toBe('EK');
  });
});
