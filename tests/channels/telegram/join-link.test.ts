import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { linkInvitation, linkPayload } from '../../../src/conversation/join-link.ts';
import type { Person } from '../../../src/conversation/world.ts';
import { nothingChanged } from '../../../src/line/change.ts';
import { shipped } from '../../support/shipped.ts';
import { TelegramClinic } from '../../support/telegram-clinic.ts';

const { programme } = shipped;
let clinic: TelegramClinic;
let links = 0;

beforeEach(async () => {
  clinic = await TelegramClinic.open();
  await clinic.play('phone c 7009 role=coordinator channel=telegram');
});
afterEach(() => clinic.close());

async function invited(more: Partial<Person> = {}): Promise<Person> {
  const person: Person = {
    id: 'p-nia',
    programmeId: programme.id,
    name: 'Nia Bok',
    roles: ['worker'],
    siteId: 'oruma',
    locale: 'en',
    addresses: [],
    rank: 0,
    state: 'invited',
    practised: false,
    shared: false,
    ...more,
  };
  await clinic.store.putPeople([person]);
  return person;
}

async function link(person: Person): Promise<string> {
  links += 1;
  const id = links.toString(16).padStart(12, '0');
  const secret = `secret-of-a-link-number-${links}-xx`;
  const invitation = linkInvitation({ person, id, secret, now: clinic.at + links }, programme);
  const change = {
    ...nothingChanged(`invite:${id}`, programme.id, clinic.at),
    people: [{ kind: 'invite', invitation } as const],
  };
  expect(await clinic.store.commit([change])).toEqual(['committed']);
  return linkPayload(invitation);
}

/** Writes and gives what that chat got since. */
async function write(user: number, text: string): Promise<string> {
  const before = clinic.server.shownTo(user).length;
  await clinic.server.taken(clinic.server.write(user, text));
  await clinic.settle();
  const texts = clinic.server.shownTo(user).slice(before);
  return texts.map((one) => one.text).join('\n');
}

const nia = async (): Promise<Person | undefined> =>
  (await clinic.store.roster(programme.id)).find((one) => one.id === 'p-nia');

describe('a link to join by', () => {
  it('lets in whoever opens it first, and nobody after', async () => {
    const payload = await link(await invited());
    expect(payload).toMatch(/^[\w-]{1,64}$/);
    expect(await write(7001, `/start ${payload}`)).toContain('Welcome to the line');
    expect(await nia()).toMatchObject({ state: 'joined', addresses: [{ channel: 'telegram', address: '7001' }] });
    expect(clinic.heardBy('c').join()).toContain('Nia Bok opened the link');
    expect(await write(7002, `/start ${payload}`)).toContain('That link is used or too old');
    expect(await write(7001, '23')).toContain('That is right, and it is all you need');
    expect(await write(7001, '/new')).toContain('NEW PATIENT');
  });

  it('wrong by one letter says nothing about anybody, and the right one still counts', async () => {
    const payload = await link(await invited());
    const wrong = `${payload.slice(0, -1)}y`;
    expect(await write(7001, `/start ${wrong}`)).toContain('this number is not on its list');
    expect((await nia())?.state).toBe('invited');
    expect(await write(7001, `/start ${payload}`)).toContain('Welcome to the line');
  });

  it('lapses after its hours', async () => {
    const payload = await link(await invited());
    clinic.at += 73 * 3_600_000;
    expect(await write(7001, `/start ${payload}`)).toContain('That link is used or too old');
    expect((await nia())?.state).toBe('invited');
  });

  it('made anew voids the former one', async () => {
    const person = await invited();
    const former = await link(person);
    const newest = await link(person);
    expect(await write(7001, `/start ${former}`)).toContain('not on its list');
    expect(await write(7001, `/start ${newest}`)).toContain('Welcome to the line');
  });

  it('of somebody with a phone moves their texts here, goes on where they were, and says so to the phone', async () => {
    await clinic.play('phone w +000555010001 role=worker\nw> NEW\nw> AK 1982 F\nw< AK: breathing. 1 noisy');
    const w = (await clinic.store.roster(programme.id)).find((one) => one.id === 'person-w')!;
    const payload = await link(w);
    const heard = await write(7001, `/start ${payload}`);
    expect(heard).toContain('I write to you here from now on');
    expect(heard).toContain('AK: breathing. 1 noisy');
    expect(clinic.heardBy('w').at(-1)).toContain('From now on I write to you on Telegram');
    expect(await write(7001, '60')).toContain('AK: ask the patient');
  });

  it('means nothing in a text message: a number of an SMS can be forged', async () => {
    const payload = await link(await invited());
    await clinic.line.hearText({ channel: 'sms', address: '+000555010077' }, 's1', `start ${payload}`, clinic.at);
    expect((await nia())?.state).toBe('invited');
  });

  it('opened by somebody who is on the line already changes nobody', async () => {
    const payload = await link(await invited());
    expect(await write(7009, `/start ${payload}`)).toContain('You are on the line already');
    expect((await nia())?.state).toBe('invited');
  });

  it('brings back whoever had left', async () => {
    const payload = await link(await invited({ state: 'stopped', practised: true }));
    expect(await write(7001, `/start ${payload}`)).toContain('Welcome back');
    expect((await nia())?.state).toBe('joined');
  });

  it('two people at once: one is let in', async () => {
    const payload = await link(await invited());
    const [one, other] = [
      clinic.server.write(7001, `/start ${payload}`),
      clinic.server.write(7002, `/start ${payload}`),
    ];
    await clinic.server.taken(one);
    await clinic.server.taken(other);
    await clinic.settle();
    expect(
      clinic.server
        .shownTo(7001)
        .concat(clinic.server.shownTo(7002))
        .map((shown) => shown.text.slice(0, 19))
        .sort(),
    ).toEqual(['PRACTICE: a lump is', 'That link is used o', 'Welcome to the line']);
    expect((await nia())?.addresses).toHaveLength(1);
  });

  it('without one, opening the bot gives nobody in', async () => {
    await invited();
    expect(await write(7001, '/start')).toContain('not on its list');
  });
});
