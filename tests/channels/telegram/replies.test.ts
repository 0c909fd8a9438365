import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { TelegramClinic } from '../../support/telegram-clinic.ts';

/** A whole line with Telegram on loopback: numbers of messages go out and come back. */
let clinic: TelegramClinic;
const worker = 7001;

beforeEach(async () => {
  clinic = await TelegramClinic.open();
  await clinic.play(
    [
      `phone w ${worker} role=worker channel=telegram`,
      'phone d 7002 role=doctor channel=telegram',
      'phone c 7003 role=coordinator channel=telegram',
      'w> NEW',
      'w> AK 1982 F',
      'w> NEW',
      'w> BO 1990 M',
      'w< BO: breathing. 1 noisy',
    ].join('\n'),
  );
});
afterEach(() => clinic.close());

/** The newest message of a chat that begins so. */
const shown = (beginning: string, user = worker) =>
  clinic.server.shownTo(user).findLast((one) => one.text.startsWith(beginning))!;

/** Somebody swipes a message and writes; resolves with what they then hear. */
async function replies(to: { readonly id: number }, text: string, more: object = {}, user = worker): Promise<string> {
  const before = clinic.server.shownTo(user).length;
  const reply_to_message = { ...clinic.server.base(user), message_id: to.id, from: { id: 55, is_bot: true } };
  await clinic.server.taken(clinic.server.write(user, text, { reply_to_message, ...more }));
  await clinic.settle();
  return clinic.server
    .shownTo(user)
    .slice(before)
    .map((one) => one.text)
    .join('\n');
}

async function sends(more: object, user = worker): Promise<string> {
  const before = clinic.server.shownTo(user).length;
  await clinic.server.taken(clinic.server.push({ message: { ...clinic.server.base(user), ...more } }));
  await clinic.settle();
  return clinic.server
    .shownTo(user)
    .slice(before)
    .map((one) => one.text)
    .join('\n');
}

describe('a message answered by swiping it', () => {
  it('has its own question answered, also after a restart: no other patient becomes an emergency', async () => {
    await clinic.restart();
    // "1" would be noisy breathing for BO.
    const heard = await replies(shown('AK: breathing. 1 noisy'), '60');
    expect(heard).toMatch(/^AK: ask the patient/);
    expect(heard).not.toMatch(/EMERGENCY/);
    expect(await replies(shown('AK: breathing. 1 noisy'), '1')).toMatch(
      /^The question that you replied to is answered or over/,
    );
    expect(clinic.heardBy('d')).toEqual([]);
  });

  it('that asks nothing, or is unknown, leaves the words an ordinary text', async () => {
    expect(await replies({ id: 99_999 }, '60')).toMatch(/^BO: ask the patient/);
  });

  it("that was somebody's own leaves the words an ordinary text", async () => {
    const own = { reply_to_message: { ...clinic.server.base(worker), message_id: shown('AK: breathing. 1 noisy').id } };
    expect(await sends({ text: '60', ...own })).toMatch(/^BO: ask the patient/);
  });
});

describe('what is no text of its own', () => {
  it('that was forwarded answers nothing, and is told so', async () => {
    const heard = await sends({ text: '1', forward_origin: { type: 'user', date: 1 } });
    expect(heard).toMatch(/^I do not read a forwarded text as an answer/);
    expect(heard).toMatch(/BO: breathing/);
    expect(clinic.heardBy('d')).toEqual([]);
  });

  it.each([
    ['a forwarded text', { text: 'SOS she bleeds', forward_date: 1 }],
    ['a forwarded photo', { photo: [], caption: 'SOS', forward_origin: { type: 'user' } }],
    ['a photo', { photo: [], caption: 'SOS look' }],
    ['a voice note', { voice: {}, caption: 'sos' }],
    ['a document', { document: {}, caption: 'S.O.S' }],
  ])('that says SOS is an alarm of whoever sent it: %s', async (_what, more) => {
    await sends(more);
    expect(clinic.heardBy('d').join()).toContain('SOS');
  });

  it.each([
    ['a voice note', { voice: {} }, /cannot hear.*SOS/],
    ['a spoken file', { audio: {} }, /cannot hear.*SOS/],
    ['a round video', { video_note: {} }, /take no pictures.*SOS/],
    ['a photo', { photo: [] }, /take no pictures.*SOS/],
    ['a sticker', { sticker: {} }, /written words only.*SOS/],
    ['a place', { location: {} }, /written words only.*SOS/],
    ['a contact', { contact: {} }, /written words only.*SOS/],
    ['a list to tick', { checklist: {} }, /written words only.*SOS/],
  ])('is answered with what to do instead and how to call for help: %s', async (_what, more, wanted) => {
    const heard = await sends(more);
    expect(heard).toMatch(wanted);
    expect(heard).toMatch(/BO: breathing/);
  });
});
