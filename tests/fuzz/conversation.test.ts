import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isGsm7 } from '../../src/text/gsm7.ts';
import { bringTo, Clinic, everybody, places } from '../support/clinic.ts';
import { runs } from '../support/runs.ts';
import { hostileText, seed } from './hostile.ts';

const phones = everybody.map((line) => line.split(' ')[1]!);

/** Who may hear anything of what one phone sends. Site kesu and Lab Mora have no part in what happens at Oruma. */
const mayHear: Readonly<Record<string, readonly string[]>> = {
  w: ['w', 'v', 'd', 'e', 'l', 'c'],
  v: ['w', 'v', 'd', 'e', 'l', 'c'],
  x: ['x', 'd', 'e', 'c', 'm'],
  d: ['d', 'e', 'w', 'v', 'x', 'c', 'l'],
  e: ['d', 'e', 'w', 'v', 'x', 'c', 'l'],
  l: ['l', 'w', 'v', 'd', 'e', 'c'],
  m: ['m', 'd', 'e', 'c'],
  c: ['c', 'd', 'e', 'l', 'w', 'v'],
  n: ['n', 'c'],
};

/** Nobody's text, however long, makes the line send more than this at once, segments. Convention of this test. */
const segmentsAtMost = 8;

/** Cases of Oruma as rows, without those of other sites. */
const casesOfOruma = (snapshot: string): string =>
  JSON.stringify(
    (JSON.parse(snapshot.split('\n')[0]!) as { site_id: string }[]).filter((one) => one.site_id === 'oruma'),
  );

describe('whatever is sent, by whomever, at any place of a case', () => {
  it.each(places)('%s: nothing breaks, nothing leaks, nothing changes that may not', async (place) => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.constantFrom(...phones), hostileText), { minLength: 45, maxLength: 45 }),
        async (texts) => {
          const clinic = new Clinic();
          try {
            await bringTo(clinic, place);
            clinic.heard();
            let gsm7 = true;
            for (const [phone, text] of texts) {
              const before = clinic.snapshot();
              await clinic.text(phone, text);
              expect(clinic.faults).toEqual([]);
              const heard = clinic.heard();
              const outsiders = heard.filter((one) => !mayHear[phone]!.includes(one.phone));
              expect(outsiders.map((one) => `${one.phone}: ${one.text}`)).toEqual([]);
              expect(heard.filter((one) => one.segments > segmentsAtMost).map((one) => one.text)).toEqual([]);
              // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
              expect(heard.filter((one) => /[\u0000-\u0009\u000b-\u001f\u007f]/.test(one.text))).toEqual([]);
              // Words once said in another script may come back with a question that is asked again.
              gsm7 &&= isGsm7(text);
              if (gsm7) expect(heard.filter((one) => one.encoding !== 'GSM-7').map((one) => one.text)).toEqual([]);
              const after = clinic.snapshot();
              if (phone === 'n') expect(after).toBe(before);
              if (['x', 'm'].includes(phone)) expect(casesOfOruma(after)).toBe(casesOfOruma(before));
            }
            expect(await (await clinic.store()).parked()).toEqual([]);
            expect(await (await clinic.store()).verify()).toEqual([]);
            expect(clinic.logged.filter(([level]) => level === 'error')).toEqual([]);
          } finally {
            await clinic.close();
          }
        },
      ),
      { seed, numRuns: runs(2, 60), endOnFailure: true },
    );
  });
});
