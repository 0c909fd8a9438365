import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { referenceOf } from '../../src/channels/sms/secrets.ts';
import { smsLink } from '../../src/cli/sms-link.ts';
import { readSettings } from '../../src/config.ts';
import { Gateway, phoneOf, QueueLine } from '../support/queue-line.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const worker = phoneOf('w', 'worker', 1);
const doctor = phoneOf('d', 'doctor', 2, { rank: 1 });
const coordinator = phoneOf('c', 'coordinator', 4);
const secret = 'a-secret-of-the-gateway';

let clinic: QueueLine;
let gateway: Gateway;
let server: Server;

beforeEach(async () => {
  clinic = new QueueLine();
  gateway = new Gateway();
  await clinic.open(gateway);
  await clinic.store.putPeople([worker, doctor, coordinator]);
  const read = readSettings({
    NECKLINE_SMS_GATEWAY: 'kannel',
    NECKLINE_SMS_SEND_URL: 'http://127.0.0.1:1/none',
    NECKLINE_SMS_NUMBER: '1234',
    NECKLINE_SMS_SECRET: secret,
    NECKLINE_SMS_PREFIXES: '+000555',
  });
  if (!read.ok) throw new Error('settings');
  const door = smsLink(read.settings, {
    clock: { now: () => clinic.now },
    steady: () => clinic.steady,
    log: { write: () => undefined },
    offsetAtMostMs: minuteMs,
    zone: 'UTC',
  }).door(clinic.line, () => undefined);
  server = createServer((request, response) => void door(request, response));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
});
afterEach(async () => {
  server.closeAllConnections();
  server.close();
  await clinic.close();
});

/** The network says what became of a text: 1 arrived, 2 did not, 8 is on its way. */
async function reports(id: string, status: number): Promise<void> {
  const { port } = server.address() as AddressInfo;
  const query = new URLSearchParams({ ref: referenceOf(id, [secret]), status: String(status) });
  const headers = { 'x-neckline-secret': secret };
  const response = await fetch(`http://127.0.0.1:${port}/sms/report?${query}`, { headers });
  expect(response.status).toBe(200);
}

const textsTo = (id: string) => gateway.taken.filter((one) => one.personId === id);
const statusOf = async (id: string) =>
  (await clinic.store.messages({ personId: 'w' })).find((one) => one.id === id)?.status;

describe('delivery reports that come hours late', () => {
  it('are noted, and no text went out again meanwhile', async () => {
    await clinic.hear(worker, '?');
    await clinic.line.settle();
    const [first] = textsTo('w');
    await reports(first!.id, 8);
    await clinic.run(7 * hourMs);
    expect(textsTo('w').map((one) => one.id)).toEqual([first!.id]);
    await reports(first!.id, 1);
    expect(await statusOf(first!.id)).toBe('delivered');
    await clinic.run(hourMs);
    expect(textsTo('w')).toHaveLength(1);
  });

  it('of a text that did not arrive after all tell the coordinator, once', async () => {
    await clinic.hear(worker, '?');
    await clinic.line.settle();
    const [first] = textsTo('w');
    await clinic.run(7 * hourMs);
    for (let twice = 0; twice < 2; twice += 1) await reports(first!.id, 16);
    await clinic.line.settle();
    expect(await statusOf(first!.id)).toBe('failed');
    expect(textsTo('c').filter((one) => one.text.includes('did not arrive'))).toHaveLength(1);
    // The end is the end, whatever comes behind it.
    await reports(first!.id, 1);
    expect(await statusOf(first!.id)).toBe('failed');
  });

  it('have the link doubted until they come, and trusted again after', async () => {
    for (let text = 0; text < 5; text += 1) {
      await clinic.hear(worker, '?');
      await clinic.run(minuteMs);
      if (text === 0) await reports(textsTo('w')[0]!.id, 1);
    }
    await clinic.run(20 * minuteMs);
    await clinic.line.watch.look();
    expect(clinic.line.watch.stateOf('sms')).toBe('doubtful');
    clinic.pass(3 * hourMs);
    for (const { id } of textsTo('w')) await reports(id, 1);
    await clinic.line.watch.look();
    expect(clinic.line.watch.stateOf('sms')).toBe('ok');
  });
});
