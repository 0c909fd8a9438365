import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { shipped } from '../../support/shipped.ts';
import { TelegramClinic, token } from '../../support/telegram-clinic.ts';
import { onTelegram } from '../../support/telegram-cost.ts';

const straight = readFileSync(new URL('../../conversations/straight.play', import.meta.url), 'utf8');

/** Number of the line that begins so. */
function lineOf(script: string, start: string): number {
  return script.split('\n').findIndex((line) => line.startsWith(start)) + 1;
}

let clinic: TelegramClinic;

afterEach(async () => {
  await clinic?.close();
});

describe('a whole case over Telegram', () => {
  it('goes as over SMS, mostly by buttons', async () => {
    clinic = await TelegramClinic.open();
    await clinic.play(onTelegram(straight, 'w', 'd', 'l'));
    expect(clinic.answered.taps).toBeGreaterThan(10);
    expect(clinic.logged.filter((line) => /^(warn|error)/.test(line))).toEqual([]);
  });

  it('survives floods, a bad gateway, a lost answer, an update that comes twice and a restart', async () => {
    clinic = await TelegramClinic.open();
    // A text of unknown fate goes out again after a minute: what is counted from then on is that much later.
    const script = onTelegram(straight, 'w', 'd', 'l').replace('until 12:00', 'until 12:01');
    const { server } = clinic;
    const at: Readonly<Record<number, () => Promise<void> | void>> = {
      [lineOf(script, 'w> AK')]: () => server.order('sendMessage', 'flood'),
      [lineOf(script, 'w> R 22x15x14')]: () => server.order('sendMessage', 'bad-gateway', 2),
      [lineOf(script, 'w> 14')]: () => server.order('getUpdates', 'bad-gateway-page', 2),
      [lineOf(script, 'w> 1357H')]: () => server.order('sendMessage', 'answer-lost'),
      [lineOf(script, 'w> 12')]: () => clinic.restart(),
      [lineOf(script, 'w> 6666')]: () => server.order('getUpdates', 'conflict'),
      [lineOf(script, 'w> POST')]: async () => {
        // The report of the slides comes again, word for word.
        const again = { update_id: 501, message: { ...server.base(7001), text: 'NEW' } };
        server.repeat(again);
        await server.taken(501);
      },
      [lineOf(script, 'd> ')]: () => server.order('sendMessage', 'bad-gateway-page'),
      [lineOf(script, 'w> 3 11 MAR')]: () => clinic.restart(),
    };
    const done: number[] = [];
    await clinic.play(script, async (line) => {
      if (!at[line] || done.includes(line)) return;
      done.push(line);
      await at[line]!();
    });
    expect(done).toHaveLength(Object.keys(at).length);
    // Nothing came twice but the one text whose answer was lost: it may be a loss, and a loss could hurt.
    // (Words for the patient are offered anew at each stage that needs them.)
    const heard = clinic.heardBy('w').filter((text) => text !== 'AK: SAY gives words for the patient.');
    const twice = heard.filter((text, index) => heard.indexOf(text) !== index);
    expect(twice.map((text) => text.slice(0, 24))).toEqual(['AK: lay the patient flat']);
    expect(heard.filter((text) => text.startsWith('NEW PATIENT'))).toHaveLength(1);
    expect(clinic.logged.join('\n')).not.toContain(token.slice(3));
    expect(clinic.logged.join('\n')).not.toMatch(/7001|AK|1982|danger/);
  });

  it('goes with the worker on SMS and the doctor on Telegram', async () => {
    clinic = await TelegramClinic.open();
    await clinic.play(onTelegram(straight, 'd'));
    expect(clinic.answered).toEqual({ taps: 1, typed: 0 });
    expect(clinic.heardBy('d').at(-1)).toMatch(/^Q\d\d noted/);
  });

  it('shows a photo of the worker to the doctor, once, through a flood and a restart, where the programme allows it', async () => {
    const content = shipped;
    clinic = await TelegramClinic.open({ ...content, programme: { ...content.programme, pictures: 'to-doctor' } });
    const { server } = clinic;
    await clinic.play(
      onTelegram(
        'phone w +000555010001 role=worker\nphone d +000555010002 role=doctor\nw> NEW\nw> AK 1982 F',
        'w',
        'd',
      ),
    );
    const [user, doctor] = ['w', 'd'].map((name) => Number(clinic.phones.get(name)!.address));
    const photo = [
      { file_id: 'thumb', width: 90, height: 67 },
      { file_id: 'AgAC-large', width: 1280, height: 960 },
    ];
    const sent = { message: { ...server.base(user!), photo, caption: 'is this edge smooth?' } };
    server.order('sendPhoto', 'flood');
    const update = server.push(sent);
    await server.taken(update);
    server.repeat({ update_id: update, ...sent });
    await server.taken(update);
    await clinic.restart();
    await clinic.settle();
    const shown = server.shownTo(doctor!);
    expect(shown.map((one) => one.photo)).toEqual(['AgAC-large', null]);
    expect(shown[0]!.text).toMatch(/^Q\d\d AK: w: "is this edge smooth\?"\. A picture shows less than the patient/);
    expect(shown[1]!.text).toMatch(/^Q\d\d ASKS/);
    expect(server.calls.filter((one) => one.method === 'sendPhoto')).toHaveLength(2);
    expect(server.calls.some((one) => one.method === 'getFile')).toBe(false);
    expect(clinic.logged.join('\n')).not.toMatch(/AgAC|smooth/);
  });
});
