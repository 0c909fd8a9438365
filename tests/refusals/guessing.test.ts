import { afterEach, describe, expect, it } from 'vitest';
import { makeCode } from '../../src/case/code.ts';
import { bringTo, Clinic, type Place } from '../support/clinic.ts';

let clinic: Clinic;
afterEach(() => clinic.close());

async function at(place: Place): Promise<string> {
  clinic = new Clinic();
  const code = await bringTo(clinic, place);
  clinic.heard();
  return code;
}

/** Codes with sound check digits that nobody issued. */
const unissued = (count: number): readonly string[] =>
  Array.from({ length: count }, (_, index) => String(700_000 + index * 37)).map(makeCode);

const words = (code: string): string => `${code.slice(0, 4)} ${code.slice(4)}`;
const blank = (text: string, code: string): string =>
  text.replaceAll(words(code), '#').replaceAll(code, '#').replace(/\s+/g, ' ');

describe('guessing case codes', () => {
  it.each([
    ['x', 'CASE #'],
    ['x', 'TAKE #'],
    ['x', 'POST #'],
    ['x', 'NEW #'],
    ['m', 'GOT # 2'],
    ['m', 'BAD # 1'],
    ['m', 'CASE #'],
    ['m', '# Thy2'],
    ['l', 'CASE #'],
    ['l', 'GOT # 2'],
  ])('%s sends %s: a case of others gets the words of a code that nobody issued', async (phone, text) => {
    const code = await at('to-post');
    const none = unissued(1)[0]!;
    const before = clinic.snapshot();
    await clinic.text(phone, text.replace('#', none));
    const forNone = clinic.heard();
    await clinic.text(phone, text.replace('#', code));
    const forOther = clinic.heard();
    expect(forNone.filter((one) => one.phone === phone).length).toBe(1);
    expect(forOther.map((one) => [one.phone, blank(one.text, code)])).toEqual(
      forNone.map((one) => [one.phone, blank(one.text, none)]),
    );
    expect(clinic.snapshot()).toBe(before);
  });

  it.each([
    ['x', 'CASE #'],
    ['x', 'TAKE #'],
    ['w', 'CASE #'],
    ['d', 'CASE #'],
    ['c', 'CASE #'],
    ['m', 'GOT # 2'],
    ['m', '# Thy2'],
  ])('%s sends %s: the coordinator hears of the fifth, the tenth ends it for an hour', async (phone, text) => {
    const code = await at('to-post');
    const codes = unissued(14);
    const told: number[] = [];
    for (const [index, one] of codes.slice(0, 10).entries()) {
      await clinic.text(phone, text.replace('#', one));
      const heard = clinic.heard();
      if (heard.some((each) => each.phone === 'c' && each.text.includes('do not know keep coming')))
        told.push(index + 1);
      if (heard.some((each) => each.phone === 'c' && each.text.includes('does not know keep coming')))
        told.push(index + 1);
    }
    expect(told).toEqual([5]);
    // The right one is not looked up any more, unless it is the sender's own patient.
    await clinic.text(phone, text.replace('#', code));
    const heard = clinic.heardBy(phone).join();
    if (phone === 'w') expect(heard).toContain('AK');
    else expect(heard).toContain('For an hour I find only your own patients');
    await clinic.play('wait 61m');
    clinic.heard();
    await clinic.text(phone, text.replace('#', codes[12]!));
    expect(clinic.heardBy(phone).join()).toContain('I do not know this code');
  });

  it('an alarm by code is never closed by guessing', async () => {
    const code = await at('watched');
    for (const one of unissued(12)) await clinic.text('v', `CASE ${one}`);
    clinic.heard();
    await clinic.text('v', `SOS ${code}`);
    expect(clinic.heardBy('v').join()).toContain('AK');
  });

  it('a code typed wrong is no guess: its check digits say so', async () => {
    await at('to-post');
    for (let digit = 0; digit < 20; digit += 1) await clinic.text('x', `CASE 48291${100 + digit}`);
    expect(clinic.heardBy('c')).toEqual([]);
  });
});

describe('guessing join numbers', () => {
  it('five tries of nine hundred thousand, from the listed phone alone, then the coordinator hears', async () => {
    await at('nothing');
    await clinic.play('phone j +000555010042', 'c> ADD worker +000555010042 oruma Nia Bok');
    await clinic.play(`c> ${clinic.found('c', /Right: send (\d+)/)}`);
    const number = clinic.found('j', /JOIN (\d{6})/);
    const before = clinic.snapshot();
    // Another phone that knows the number is nobody.
    await clinic.text('n', `JOIN ${number}`);
    expect(clinic.snapshot()).toBe(before);
    clinic.heard();
    let tries = 0;
    let told = '';
    while (told === '' && tries < 50) {
      tries += 1;
      // A second number in the same text is no second try.
      await clinic.text('j', `JOIN ${tries === 1 ? '222222' : '111111'} ${number}`);
      told = clinic.heardBy('c').join();
    }
    expect(tries).toBe(5);
    await clinic.text('j', `JOIN ${number}`);
    const store = await clinic.store();
    expect((await store.roster('tamboro')).find((one) => one.name === 'Nia Bok')?.state).toBe('invited');
  });
});
