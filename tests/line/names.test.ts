import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { loadContent } from '../../src/content/load.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Person } from '../../src/conversation/world.ts';
import { Line } from '../../src/line/line.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import { Link, person } from '../support/links.ts';

const byHand = loadContent();
const inChat = { ...byHand, programme: { ...byHand.programme, privacy: 'in-chat' as const } };
/** In another case than on the label, as tired people write. */
const typed = 'tala  Fenn 12 mar 1982';

let folder: string;
let store: LineStore;
let line: Line;
let sms: Link;
let telegram: Link;
let now: number;
let heard = 0;

async function open(content: typeof byHand, worker: Person): Promise<void> {
  store = await openStore({
    url: `sqlite:${join(folder, 'line.db')}`,
    keys: keyRingOf(new Uint8Array(32).fill(1)),
    dueAtOf: (of) => dueAtOf(content.programme, of),
  });
  await store.putPeople([
    worker,
    person('d', 'doctor', ['telegram']),
    { ...person('l', 'lab', ['telegram']), siteId: 'velin' },
  ]);
  line = new Line({
    store,
    content,
    registry,
    clock: { now: () => now },
    random: seededRandom(1),
    log: { write: () => undefined },
    channels: new Map([
      ['sms', sms],
      ['telegram', telegram],
    ]),
  });
}

beforeEach(() => {
  now = Date.UTC(2030, 2, 4, 8);
  folder = mkdtempSync(join(tmpdir(), 'neckline-names-'));
  sms = new Link('sms', false, false);
  telegram = new Link('telegram', false, false);
});
afterEach(async () => {
  await store.close();
  rmSync(folder, { recursive: true, force: true });
});

async function says(from: Person, ...texts: string[]): Promise<void> {
  for (const text of texts) {
    heard += 1;
    now += 1000;
    await line.hearText(from.addresses[0]!, `test:${heard}`, text, null);
    await line.settle();
  }
}

/** A case up to where the jar gets its label. */
async function fixed(worker: Person): Promise<void> {
  const quick = 'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
  await says(worker, quick, 'YES', '1', '1357H', '123456');
  const all = [...sms.to('w'), ...telegram.to('w')].join('\n');
  const code = /CODE (\d{4}) (\d{4})/.exec(all)!;
  await says(worker, `${code[1]}${code[2]}`, '11', '1111');
}

describe('the name on the label', () => {
  const inChats = person('w', 'worker', ['telegram', 'sms']);
  const onSms = person('w', 'worker', ['sms']);

  it('is asked in a chat where the programme wants it, and stands on the label', async () => {
    await open(inChat, inChats);
    await fixed(inChats);
    expect(telegram.to('w').at(-1)).toMatch(/^AK: patient's full name and birth date for the label/);
    await says(inChats, typed);
    const label = telegram.to('w').find((text) => text.includes('NAME '))!;
    expect(label).toMatch(/NAME tala Fenn\nBORN 12 MAR 1982\n/);
    expect(telegram.to('w').at(-1)).toMatch(/name on slides = name on jar/);
    expect(sms.to('w')).toEqual([]);
  });

  it.each([
    ['nothing of a date', 'Tala Fenn', /Example: Tala Fenn 12 MAR 1982/],
    ['a day the calendar lacks', 'Tala Fenn 30 FEB 1982', /Example: Tala Fenn 12 MAR 1982/],
    ['a birth date to come', 'Tala Fenn 12 MAR 2031', /Example|later/],
    ['no name', '12 MAR 1982', /Example: Tala Fenn 12 MAR 1982/],
    ['another birth year than at the start', 'Tala Fenn 12 MAR 1983', /not the birth year.*wrong patient/s],
  ])('%s is asked again', async (_what, said, answer) => {
    await open(inChat, inChats);
    await fixed(inChats);
    const before = telegram.to('w').length;
    await says(inChats, said);
    expect(telegram.to('w').slice(before).join('\n')).toMatch(answer);
    await says(inChats, typed);
    expect(telegram.to('w').join('\n')).toMatch(/NAME tala Fenn/);
  });

  it('0 leaves it to the hand', async () => {
    await open(inChat, inChats);
    await fixed(inChats);
    await says(inChats, '0');
    expect(telegram.to('w').join('\n')).toMatch(/NAME _+\nBORN ___\/___\/1982/);
  });

  it('is never asked on SMS, nor where the programme did not ask for it', async () => {
    await open(inChat, onSms);
    await fixed(onSms);
    expect(sms.to('w').join('\n')).toMatch(/NAME _+\nBORN ___\/___\/1982/);
    await store.close();
    rmSync(join(folder, 'line.db'), { force: true });
    await open(byHand, inChats);
    await fixed(inChats);
    expect(telegram.to('w').join('\n')).toMatch(/NAME _+\nBORN ___\/___\/1982/);
  });

  it('is never sent by SMS, also when the chat refuses the label or the worker goes on by SMS', async () => {
    await open(inChat, inChats);
    await fixed(inChats);
    telegram.answer = { kind: 'refused', why: 'blocked' };
    await says(inChats, typed);
    expect(telegram.to('w').join('\n')).toMatch(/tala Fenn/);
    expect(sms.to('w').join('\n')).not.toMatch(/Fenn/);
    heard += 1;
    await line.hearText(inChats.addresses[1]!, `test:${heard}`, 'B', null);
    await line.settle();
    for (let turn = 0; turn < 5; turn += 1) {
      heard += 1;
      now += 1000;
      await line.hearText(inChats.addresses[1]!, `test:${heard}`, ['2', '3', '?', 'CASE', 'MORE'][turn]!, null);
      await line.settle();
    }
    expect(sms.to('w').length).toBeGreaterThan(3);
    expect(sms.to('w').join('\n')).not.toMatch(/Fenn/);
  });

  it('is told to nobody else: not to the doctor, not to the laboratory', async () => {
    await open(inChat, inChats);
    await fixed(inChats);
    await says(inChats, typed, '1', 'DOCTOR is the neck all right');
    const code = /CODE (\d{4}) (\d{4})/.exec(telegram.to('w').join('\n'))!;
    now += 21 * 60_000;
    await line.settle();
    await says(inChats, '7');
    now += 15 * 60_000;
    await line.settle();
    await says(inChats, '3', `POST ${code[1]}${code[2]}`);
    expect(telegram.to('l').join('\n')).toMatch(/FROM ORUMA CLINIC/);
    expect(telegram.to('d').join('\n')).toMatch(/is the neck all right/);
    expect([...telegram.to('l'), ...telegram.to('d')].join('\n')).not.toMatch(/Fenn/);
  });
});
