import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pageHtml } from '../../../src/channels/bench/page.ts';
import { pageCount } from '../../../src/channels/bench/page-count.ts';
import { pageScript } from '../../../src/channels/bench/page-script.ts';
import { pageStyle } from '../../../src/channels/bench/page-style.ts';
import { countSegments, unitsAlone } from '../../../src/text/segments.ts';
import { runs } from '../../support/runs.ts';

interface Counted {
  readonly plain: boolean;
  readonly used: number;
  readonly room: number;
  readonly messages: number;
}

const counter = import(`data:text/javascript,${encodeURIComponent(pageCount)}`) as Promise<{
  countSms(text: string): Counted;
}>;

describe('page of the phone bench', () => {
  it('counts messages like the line itself', async () => {
    const { countSms } = await counter;
    const same = (text: string): void => {
      const { encoding, units, segments } = countSegments(text);
      expect(countSms(text)).toMatchObject({ plain: encoding === 'GSM-7', used: units, messages: segments });
      if (segments === 1) expect(countSms(text).room).toBe(unitsAlone(encoding));
    };
    for (const text of ['', 'a'.repeat(160), 'a'.repeat(161), '€'.repeat(80), '€'.repeat(81), '\u4e00'.repeat(71)]) {
      same(text);
    }
    const sign = fc.constantFrom('a', 'é', '€', '[', '\u4e00', '\u{1f600}', '\n', '\u0000', '\u03a9');
    const texts = fc.array(sign, { maxLength: 400 }).map((signs) => signs.join(''));
    fc.assert(fc.property(texts, same), { seed: 1, numRuns: runs(300, 10_000) });
  });

  it('puts words of people in as text only', () => {
    for (const word of ['innerHTML', 'outerHTML', 'insertAdjacentHTML', 'document.write', 'eval(', 'new Function']) {
      expect(pageScript).not.toContain(word);
    }
  });

  it('asks nobody else for anything, and runs under its own content policy', () => {
    for (const part of [pageHtml, pageScript, pageStyle]) expect(part).not.toMatch(/https?:|\/\/[a-z]|url\(|@import/);
    expect(pageHtml).not.toMatch(/ style=| on[a-z]+=|<style|<script>/);
  });

  it('is a script that a browser can read', () => {
    const body = pageScript.replace(/^\s*import .*$/m, '');
    expect(() => new Function(`return async () => {${body}}`)).not.toThrow();
  });
});
