import { appendFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runCompare } from '../../src/cli/compare.ts';
import { seededRandom } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Person, Role } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { shipped as content } from '../support/shipped.ts';

const minute = 60_000;
let folder: string;
let log: string;
let now: number;

function person(id: string, role: Role, last: number, more: Partial<Person> = {}): Person {
  return {
    id,
    programmeId: content.programme.id,
    name: `Person ${id}`,
    roles: [role],
    siteId: 'oruma',
    locale: 'en',
    addresses: [{ channel: 'sms', address: numberOf(last) }],
    rank: 0,
    state: 'joined',
    practised: true,
    shared: false,
    ...more,
  };
}
const numberOf = (last: number): string => `+00055501000${last}`;

const open = () =>
  openStore({
    url: `sqlite:${join(folder, 'data', 'neckline.db')}`,
    keys: openKeyRing(join(folder, 'line.key')),
    exclusive: false,
  });

/** A line of the gateway's log, so many minutes before now. */
function logged(id: string, from: string, minutesAgo: number, size = 3): void {
  const time = new Date(now - minutesAgo * minute).toISOString().slice(0, 19).replace('T', ' ');
  appendFileSync(log, `${time} ${time} Receive SMS [SMSC:link1] [id:${id}] [from:${from}] [to:1234] [len:${size}]\n`);
}

async function run(...args: string[]) {
  const written = { out: '', err: '' };
  const exit = await runCompare(args, {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  return { exit, ...written };
}

/** Runs the line for a moment: it hears texts and says what is to be said. */
async function line(
  work: (line: Line) => Promise<unknown> = async () => undefined,
): Promise<readonly OutboundMessage[]> {
  const store = await open();
  const said: OutboundMessage[] = [];
  const channel = {
    name: 'sms',
    maxText: 0,
    buttons: false,
    images: false,
    reports: true,
    send: async (message: OutboundMessage) => {
      said.push(message);
      return { kind: 'sent' } as const;
    },
  };
  const made = new Line({
    store,
    content,
    registry,
    clock: { now: () => Date.now() },
    log: { write: () => undefined },
    random: seededRandom(7),
    channels: new Map([['sms', channel]]),
  });
  await work(made);
  await made.settle();
  await store.close();
  return said;
}

const heard = (id: string, last: number, text: string) => (made: Line) =>
  made.hearText({ channel: 'sms', address: numberOf(last) }, `sms:${id}`, text, null);

beforeEach(async () => {
  now = Date.now();
  folder = mkdtempSync(join(tmpdir(), 'neckline-compare-'));
  mkdirSync(join(folder, 'data'));
  log = join(folder, 'access.log');
  writeFileSync(log, '2026-11-25 17:02:40 Log begins\n');
  vi.stubEnv('NECKLINE_DATA', join(folder, 'data'));
  vi.stubEnv('NECKLINE_KEY_FILE', join(folder, 'line.key'));
  vi.stubEnv('NECKLINE_SMS_GATEWAY', 'kannel');
  vi.stubEnv('NECKLINE_SMS_PREFIXES', '+000555');
  const store = await open();
  await store.putPeople([
    person('w', 'worker', 1),
    person('gone', 'worker', 2, { state: 'suspended' }),
    person('quiet', 'worker', 3, { state: 'stopped' }),
    person('c', 'coordinator', 4),
  ]);
  await store.close();
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

describe('the log of the gateway compared with what the line took', () => {
  it('everything taken is nothing to find', async () => {
    await line(heard('a-1', 1, 'LIST'));
    logged('a-1', numberOf(1), 5);
    expect(await run(log)).toEqual({
      exit: 0,
      err: expect.stringMatching(/^database \S+neckline\.db; programme [^\n]+\n$/),
      out: expect.stringMatching(/^1 texts since .*: 1 taken, 0 taken under another id, 0 missing\n$/),
    });
  });

  it('what is missing is listed with its instant and where its sender stands, never with a number or a name', async () => {
    await line(heard('a-1', 1, 'LIST'));
    logged('a-1', numberOf(1), 9);
    logged('lost-1', numberOf(1), 8);
    logged('lost-2', numberOf(2), 7);
    logged('lost-3', numberOf(3), 6);
    logged('lost-4', '+000555019999', 5);
    logged('lost-5', 'BIGSHOP', 4);
    const { exit, out } = await run(log);
    expect(exit).toBe(1);
    expect(out).toMatch(/: 1 taken, 0 taken under another id, 5 missing\n/);
    expect(out).toMatch(
      /Z\tlost-1\ton the line\n.*lost-2\toff the line\n.*lost-3\toff the line\n.*lost-4\tnot on the list\n.*lost-5\tnot/s,
    );
    expect(out).not.toMatch(/000555|Person|BIGSHOP/);
  });

  it('a text that the network delivered again under another id is not missing', async () => {
    await line(async (made) => {
      await heard('a-1', 1, 'LIST')(made);
      // Known by sender, time and text, and noted under its own id.
      await made.noteKey('sms:a-2');
    });
    logged('a-1', numberOf(1), 9);
    logged('a-2', numberOf(1), 8);
    // Never called, and one with the same sender, time and size was taken.
    logged('a-3', numberOf(1), 9);
    expect((await run(log)).out).toMatch(/: 2 taken, 1 taken under another id, 0 missing/);
  });

  it('looks back as far as it is told, over several files', async () => {
    const older = join(folder, 'access.log.1');
    logged('old', numberOf(1), 73 * 60);
    logged('new', numberOf(1), 71 * 60);
    writeFileSync(older, '');
    expect((await run(older, log)).out).toMatch(/1 missing/);
    expect((await run(older, log, '--since', '4d')).out).toMatch(/2 missing/);
    expect((await run(log, '--since', '1h')).out).toMatch(/0 missing/);
    for (const args of [
      [],
      [log, '--since', 'soon'],
      [log, '--since', '900d'],
      [log, '--wait', '5s'],
      [log, '--odd'],
    ]) {
      expect((await run(...args)).exit).toBe(2);
    }
    expect(await run(join(folder, 'none.log'))).toMatchObject({
      exit: 2,
      err: expect.stringMatching(/none.log: there is no such file/),
    });
  });

  it('lines without end, torn, of any size and full of whatever a sender wrote are passed over', async () => {
    appendFileSync(log, `${'x'.repeat(3_000_000)}\n\u0000\u001b[2J\ufffd\n`);
    appendFileSync(log, Buffer.from([0xff, 0xfe, 0x0a, 0x0d, 0x0a]));
    logged('lost-1', numberOf(1), 8);
    logged('lost-1', numberOf(1), 8);
    logged(`${'y'.repeat(5_000)}`, numberOf(1), 8);
    logged('\u001b[31mred', numberOf(1), 8, 4);
    appendFileSync(log, '2026-11-25 17:02:46 2026-11-25 17:02:46 Receive SMS [SMSC:link1] [id:half');
    const { out } = await run(log);
    expect(out).toMatch(/1 missing/);
    expect(out).not.toContain('\u001b');
  });

  it('a log in another format is not taken for a clean one', async () => {
    const other = join(folder, 'other.log');
    writeFileSync(other, 'text from +000555010001\n'.repeat(50));
    expect(await run(other)).toMatchObject({ exit: 1, out: expect.stringMatching(/^no text in 50 lines/) });
  });
});

describe('asking for what is missing', () => {
  it('each sender on the line is asked once, however often it is run; coordinators hear the count', async () => {
    await line(heard('a-1', 1, 'LIST'));
    logged('a-1', numberOf(1), 99);
    logged('lost-1', numberOf(1), 31);
    logged('lost-2', numberOf(1), 30);
    logged('lost-3', numberOf(2), 30);
    logged('lost-4', numberOf(3), 30);
    const first = await run(log, '--ask', '--wait', '0s');
    expect(first).toMatchObject({ exit: 0, out: expect.stringMatching(/1 people asked to send 2 texts again\n$/) });
    const said = await line();
    expect(said.map((one) => one.personId).sort()).toEqual(['c', 'w']);
    expect(said.find((one) => one.personId === 'w')!.text).toMatch(
      /^What you sent \((\d+ [A-Z]{3} )?\d\d:\d\d - .*\d\d:\d\d\) never reached me\. Does it still matter\? Then send it again/,
    );
    expect(said.find((one) => one.personId === 'c')!.text).toMatch(/^2 texts of people on the line never reached me/);
    expect((await run(log, '--ask', '--wait', '0s')).out).toMatch(
      /0 people asked to send 0 texts again; of 2 they were asked before\n$/,
    );
    expect(await line()).toEqual([]);
    // Another one comes to light later: that one is asked for, and no other.
    logged('lost-5', numberOf(1), 29);
    expect((await run(log, '--ask', '--wait', '0s')).out).toMatch(/1 people asked to send 1 texts again; of 2/);
    expect((await line()).filter((one) => one.personId === 'w')).toHaveLength(1);
  });

  it('the text itself is still taken when the gateway brings it after all', async () => {
    logged('late-1', numberOf(1), 30);
    await run(log, '--ask', '--wait', '0s');
    const said = await line(heard('late-1', 1, 'LIST'));
    expect(said.filter((one) => one.personId === 'w')).toHaveLength(2);
    expect((await run(log)).out).toMatch(/0 missing/);
  });

  it('waits for what the gateway still holds, and refuses while no line is there to take it', async () => {
    logged('held-1', numberOf(1), 30);
    vi.stubEnv('NECKLINE_HTTP_PORT', '1');
    expect(await run(log, '--ask')).toMatchObject({ exit: 2, err: expect.stringMatching(/the line does not run/) });
    // A line that listens, well or not.
    const listening = createServer((_request, response) => response.writeHead(503).end());
    await new Promise<void>((resolve) => listening.listen(0, '127.0.0.1', resolve));
    vi.stubEnv('NECKLINE_HTTP_PORT', String((listening.address() as AddressInfo).port));
    const running = run(log, '--ask', '--wait', '2s');
    await new Promise((resolve) => setTimeout(resolve, 300));
    await line(heard('held-1', 1, 'LIST'));
    expect((await running).out).toMatch(/1 taken, 0 taken under another id, 0 missing\n$/);
    listening.close();
  });
});
