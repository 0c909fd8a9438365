import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { roles } from '../../src/case/roles.ts';
import { registry } from '../../src/conversation/matters.ts';
import { rolesText, sightRows, wordRows } from '../../src/conversation/roles.ts';
import type { Person } from '../../src/conversation/world.ts';
import { bringTo, Clinic } from '../support/clinic.ts';

const words = wordRows(registry);
const keywords = JSON.parse(readFileSync(new URL('../../locales/en/keywords.json', import.meta.url), 'utf8')) as Record<
  string,
  string
>;

/** Everybody who could write: phone, role, and whether the case is of their site or laboratory. */
const senders = [
  ['w', 'worker'],
  ['v', 'worker'],
  ['x', 'worker'],
  ['d', 'doctor'],
  ['l', 'lab'],
  ['m', 'lab'],
  ['c', 'coordinator'],
] as const;
const outsiders = ['n', 'invited', 'stopped', 'suspended'] as const;

const states = ['invited', 'stopped', 'suspended'] as const;

async function opened(): Promise<{ clinic: Clinic; code: string }> {
  const clinic = new Clinic();
  const code = await bringTo(clinic, 'to-post');
  const store = await clinic.store();
  for (const [index, state] of states.entries()) {
    const address = `+00055501005${index}`;
    const person: Person = {
      id: `person-${state}`,
      programmeId: 'tamboro',
      name: state,
      roles: [...roles],
      siteId: 'oruma',
      locale: 'en',
      addresses: [{ channel: 'sms', address }],
      rank: 9,
      state,
      practised: true,
      shared: false,
    };
    await store.putPeople([person]);
    await clinic.play(`phone ${state} ${address}`);
  }
  clinic.heard();
  return { clinic, code };
}

describe('the table of roles', () => {
  it('is printed in deploy/roles.md as the code has it', () => {
    const printed = readFileSync(new URL('../../deploy/roles.md', import.meta.url), 'utf8');
    expect(printed).toContain(`<!-- roles -->\n${rolesText(registry)}\n<!-- /roles -->`);
  });

  it('has every word that people can send, and no other', () => {
    expect(words.map((one) => one.word)).toEqual(Object.keys(keywords).sort());
  });

  it('says of every role what CASE and LIST show it', () => {
    for (const what of ['CASE', 'LIST']) {
      expect(sightRows.filter((one) => one.what === what).map((one) => one.by)).toEqual(roles);
    }
  });
});

describe('a word that is not in the table for its sender', () => {
  let clinic: Clinic;
  let code: string;
  beforeAll(async () => {
    ({ clinic, code } = await opened());
  });
  afterAll(() => clinic.close());

  const refused = words.flatMap(({ word, by }) =>
    senders.filter(([, role]) => !by.includes(role)).map(([phone, role]) => [word, phone, role] as const),
  );

  it.each(refused)('%s from %s (%s) is refused and changes nothing, alone and with a code', async (word, phone) => {
    for (const text of [word, `${word} ${code}`, `${word.toLowerCase()} 1`]) {
      const before = clinic.snapshot();
      clinic.heard();
      await clinic.text(phone, text);
      expect(clinic.snapshot(), text).toBe(before);
      const heard = clinic.heard();
      expect(heard.filter((one) => one.phone !== phone && one.phone !== 'c')).toEqual([]);
      expect(heard.map((one) => one.text).join(), text).not.toMatch(/\bAK [FM]\b/);
    }
  });

  const unknown = words.flatMap(({ word }) => outsiders.map((phone) => [word, phone] as const));
  it.each(unknown)(
    '%s from a phone that is not on the line (%s) changes no case and tells nothing of one',
    async (word, phone) => {
      if (word === 'SOS' && phone === 'stopped') return;
      if (word === 'START' && phone === 'stopped') return;
      const before = clinic.snapshot();
      clinic.heard();
      await clinic.text(phone, `${word} ${code}`);
      expect(clinic.snapshot()).toBe(before);
      const heard = clinic.heard();
      expect(heard.filter((one) => one.phone !== phone && one.phone !== 'c')).toEqual([]);
      expect(heard.map((one) => one.text).join()).not.toMatch(/\bAK\b/);
    },
  );
});

describe('an answer to a question that was asked of somebody else', () => {
  it.each([
    ['a choice', 'findings', 'w', ['OK', 'C1', 'C6']],
    ['several choices', 'ready', 'w', ['ALL', '4145', '0', '9']],
    ['a code', 'ready', 'w', ['48291354']],
    ['an attempt by its number', 'sampling', 'w', ['11', '12', '21']],
    ['slides', 'sampling', 'w', ['6666', '6600']],
    ['a watch', 'watched', 'w', ['3', '7', '1']],
    ['a read-back', 'read-back', 'l', ['YES', 'NO', 'YES 1234 1982']],
    ['a day, a calling-in', 'result', 'w', ['1', '1 30 MAR', '30 MAR', '2']],
    ['a tag', 'result', 'd', ['{tag} 1']],
  ] as const)('%s (%s) changes nothing from any other phone', async (_kind, place, owner, texts) => {
    const clinic = new Clinic();
    try {
      await bringTo(clinic, place);
      const tag = place === 'result' ? clinic.found('d', /Q(\d\d) TODAY/) : '';
      const others = ['w', 'v', 'x', 'd', 'e', 'l', 'm', 'c', 'n'].filter((one) => one !== owner);
      for (const phone of others) {
        for (const text of texts) {
          const before = clinic.snapshot();
          await clinic.text(phone, text.replace('{tag}', tag));
          // A doctor's bare digit that only adds care may answer the doctor's own question.
          if (phone === 'd' && place === 'result') continue;
          expect(clinic.snapshot(), `${phone}> ${text}`).toBe(before);
        }
      }
    } finally {
      await clinic.close();
    }
  });
});

describe('what is shown of a case', () => {
  const sees = async (place: 'to-post' | 'posted'): Promise<readonly string[]> => {
    const clinic = new Clinic();
    try {
      const code = await bringTo(clinic, place);
      const seen: string[] = [];
      for (const phone of ['w', 'v', 'x', 'd', 'e', 'l', 'm', 'c', 'n']) {
        clinic.heard();
        await clinic.text(phone, `CASE ${code}`);
        if (clinic.heardBy(phone).some((one) => one.includes('Decision: '))) seen.push(phone);
      }
      return seen;
    } finally {
      await clinic.close();
    }
  };
  it('before posting: the site, the doctors, the coordinator', async () => {
    expect(await sees('to-post')).toEqual(['w', 'v', 'd', 'e', 'c']);
  });
  it('from posting on: its laboratory too, and no other', async () => {
    expect(await sees('posted')).toEqual(['w', 'v', 'd', 'e', 'l', 'c']);
  });

  it('in a list: the site, the doctors and the coordinator, no laboratory and no other site', async () => {
    const clinic = new Clinic();
    try {
      await bringTo(clinic, 'to-post');
      const seen: string[] = [];
      for (const phone of ['w', 'v', 'x', 'd', 'e', 'l', 'm', 'c', 'n']) {
        clinic.heard();
        await clinic.text(phone, 'LIST');
        if (clinic.heardBy(phone).some((one) => one.includes('AK'))) seen.push(phone);
      }
      expect(seen).toEqual(['w', 'v', 'd', 'e', 'c']);
    } finally {
      await clinic.close();
    }
  });

  it('taking over: a colleague of the site may, nobody else', async () => {
    const clinic = new Clinic();
    try {
      const code = await bringTo(clinic, 'to-post');
      for (const phone of ['x', 'd', 'l', 'm', 'c', 'n']) {
        const before = clinic.snapshot();
        await clinic.text(phone, `TAKE ${code}`);
        expect(clinic.snapshot(), phone).toBe(before);
      }
      const before = clinic.snapshot();
      await clinic.text('v', `TAKE ${code}`);
      expect(clinic.snapshot()).not.toBe(before);
    } finally {
      await clinic.close();
    }
  });
});
