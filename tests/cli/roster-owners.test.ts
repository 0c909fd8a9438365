import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runRoster } from '../../src/cli/roster.ts';
import { readRoster } from '../../src/cli/roster-file.ts';
import { readsLikeTheLine } from '../../src/conversation/name-words.ts';
import type { Person } from '../../src/conversation/world.ts';
import { nothingChanged } from '../../src/line/change.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { playLines } from '../support/play.ts';
import { shipped } from '../support/shipped.ts';

let folder: string;
const database = (): string => join(folder, 'data', 'neckline.db');
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-owners-'));
  mkdirSync(join(folder, 'data'));
  vi.stubEnv('NECKLINE_DATA', join(folder, 'data'));
  vi.stubEnv('NECKLINE_KEY_FILE', `${database()}.key`);
  vi.stubEnv('NECKLINE_PROGRAMME', ownProgramme(folder));
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

async function imported(lines: readonly string[], ...more: string[]) {
  const file = join(folder, 'roster.csv');
  writeFileSync(file, `name,roles,channel,address,site,locale\n${lines.join('\n')}\n`);
  const written = { out: '', err: '' };
  const exit = await runRoster(['import', file, ...more], {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  // Which database and programme it was stands first.
  return {
    exit,
    out: written.out,
    err: written.err.replace(/^[^\n]*programme[^\n]*\n/, '').replaceAll(`${file}:`, ''),
  };
}

async function people(): Promise<readonly Person[]> {
  const store = await openStore({
    url: `sqlite:${database()}`,
    keys: openKeyRing(`${database()}.key`),
    exclusive: false,
  });
  const roster = await store.roster('tamboro');
  await store.close();
  return roster;
}

const play = async (...lines: readonly string[]): Promise<string> => {
  const { printed, code } = await playLines(lines, ['--db', database()]);
  expect(code, printed).toBe(0);
  return printed;
};

const whole = [
  'Ada Lumo,worker,sms,+000555010001,oruma,en',
  'Beno Sarr,worker,sms,+000555010011,oruma,en',
  'Dr Tano,doctor,sms,+000555010002,oruma,en',
  'Dr Imre,doctor,sms,+000555010012,oruma,en',
  'Lio Marek,lab,sms,+000555010003,velin,en',
  'Sia Tor,lab,sms,+000555010013,mora,en',
  'Sela Rune,coordinator,sms,+000555010004,oruma,en',
];

describe('an address that has another owner or another role', () => {
  it.each([
    ['another owner', 'Zed New,worker,sms,+000555010001,oruma,en', 'Ada Lumo, worker, oruma'],
    ['another role', 'Dr Tano,worker,sms,+000555010002,oruma,en', 'Dr Tano, doctor, oruma'],
    ['one more role', 'Ada Lumo,worker+coordinator,sms,+000555010001,oruma,en', 'Ada Lumo, worker, oruma'],
    ['another site', 'Ada Lumo,worker,sms,+000555010001,kesu,en', 'Ada Lumo, worker, oruma'],
  ])('%s is left out with its line and why, and changes nothing', async (_what, line, has) => {
    await imported(whole);
    const before = await people();
    const { exit, out, err } = await imported([line]);
    expect([exit, out]).toEqual([1, '0 new, 0 changed, 0 the same, 1 left out\n']);
    expect(err).toBe(
      `2: expected the owner and role that this address has (${has}); another one takes roster import --change\n`,
    );
    expect(await people()).toEqual(before);
  });

  it('hands nothing over with --change: case, question and conversation go to a colleague, the new owner begins anew', async () => {
    await play(
      'phone w +000555010001 role=worker',
      'phone v +000555010011 role=worker',
      'phone d +000555010002 role=doctor',
      'phone c +000555010004 role=coordinator',
      'w> NEW HH 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
      'w> OK',
      'w< HH: RIGHT lump',
    );
    const { exit, out } = await imported(['Zed New,worker,sms,+000555010001,kesu,en'], '--change');
    expect([exit, out]).toEqual([
      0,
      'line 2 changed: another owner, site oruma to kesu\n0 new, 1 changed, 0 the same, 0 left out\n',
    ]);
    const all = await people();
    const [former, now] = [all.find((one) => one.name === 'w')!, all.find((one) => one.name === 'Zed New')!];
    expect(former).toMatchObject({ state: 'suspended', addresses: [] });
    expect(now).toMatchObject({ state: 'joined', practised: false, addresses: [{ address: '+000555010001' }] });
    expect(now.id).not.toBe(former.id);
    await play(
      'at 2030-03-05T08:00:00Z',
      'phone zed +000555010001',
      'phone v +000555010011 role=worker',
      'phone c +000555010004 role=coordinator',
      'wait 1m',
      'v< HH',
      'c< w is off the line: the roster file gives that phone to somebody else or to another role. Open cases: 1, now with v.',
      'zed<! HH',
      'zed> 1',
      'zed<! HH',
      'zed> LIST',
      'zed<! HH',
      'wait 2d',
      'zed<! HH',
      'v> LIST',
      'v< HH',
    );
  });

  it('gives the work of a worker without colleagues to nobody: a coordinator hears', async () => {
    await play(
      'phone w +000555010001 role=worker',
      'phone d +000555010002 role=doctor',
      'phone c +000555010004 role=coordinator',
      'w> NEW HH 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
    );
    expect((await imported(['Zed New,worker,sms,+000555010001,kesu,en'], '--change')).exit).toBe(0);
    await play(
      'at 2030-03-05T08:00:00Z',
      'phone zed +000555010001',
      'phone c +000555010004 role=coordinator',
      'wait 1m',
      'c< Open cases: 1, now with nobody at the site',
      'zed<! HH',
    );
  });

  it('passes the questions of a doctor who is one no more to the next doctor', async () => {
    await play(
      'phone w +000555010001 role=worker',
      'phone d +000555010002 role=doctor',
      'phone e +000555010012 role=doctor',
      'phone c +000555010004 role=coordinator',
      'w> DOCTOR may I use old slides',
      'd< ASKS',
      'e<! ASKS',
    );
    expect((await imported(['d,worker,sms,+000555010002,oruma,en'], '--change')).exit).toBe(0);
    await play(
      'at 2030-03-04T09:00:00Z',
      'phone d2 +000555010002',
      'phone e +000555010012 role=doctor',
      'wait 1m',
      'e< /Q\\d\\d ASKS/',
      'd2<! ASKS',
      'd2> LIST',
      'd2<! Q',
    );
  });

  it('at the same clinic is not the colleague to whom the work goes', async () => {
    await play(
      'phone w +000555010001 role=worker',
      'phone d +000555010002 role=doctor',
      'phone c +000555010004 role=coordinator',
      'w> NEW HH 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
    );
    expect((await imported(['Zed New,worker,sms,+000555010001,oruma,en'], '--change')).exit).toBe(0);
    await play(
      'at 2030-03-04T08:01:00Z',
      'phone zed +000555010001',
      'phone c +000555010004 role=coordinator',
      'wait 1m',
      'c< Open cases: 1, now with nobody at the site',
      'zed<! HH',
    );
  });

  it('drops what waited to be sent to the former owner', async () => {
    await imported(whole);
    const all = await people();
    const store = await openStore({ url: `sqlite:${database()}`, keys: openKeyRing(`${database()}.key`) });
    const now = Date.UTC(2030, 2, 4, 8);
    const waits = (id: string, personId: string): OutboundMessage => ({
      id,
      personId,
      to: all.find((one) => one.id === personId)!.addresses[0]!,
      caseId: null,
      at: now,
      lane: 'notice',
      text: 'HH: the result has come',
      segments: 1,
      encoding: 'GSM-7',
      flow: '-',
      step: '-',
      code: null,
      ask: null,
      validUntil: now + 9e9,
      notBefore: now,
      safety: true,
    });
    const [ada, beno] = ['Ada Lumo', 'Beno Sarr'].map((name) => all.find((one) => one.name === name)!.id);
    const outbox = [waits('m1', ada!), waits('m2', beno!)];
    await store.commit([{ ...nothingChanged('e1', 'tamboro', now), outbox }]);
    const queued = async () => (await store.queues()).reduce((sum, { texts }) => sum + texts, 0);
    expect(await queued()).toBe(2);
    await store.close();
    await imported(['Zed New,worker,sms,+000555010001,oruma,en'], '--change');
    const after = await openStore({ url: `sqlite:${database()}`, keys: openKeyRing(`${database()}.key`) });
    const left = await after.claimOutbox(now + 1000, 10);
    await after.close();
    expect(left.map(({ message }) => message.id)).toEqual(['m2']);
  });

  it('of the same person in another role brings the other addresses along, once', () => {
    const at = [
      { channel: 'sms', address: '+000555010001' },
      { channel: 'telegram', address: '77' },
    ];
    const [ada] = readRoster(`name,roles,channel,address,site,locale\n${whole[0]}\n`, shipped, [], true).people;
    const known = [{ ...ada!, addresses: at }];
    const lines = ['sms,+000555010001', 'telegram,77'].map((one) => `Ada Lumo,worker+coordinator,${one},oruma,en`);
    const text = `name,roles,channel,address,site,locale\n${lines.join('\n')}\n`;
    const read = readRoster(text, shipped, known, true, { change: true });
    expect(read.faults).toEqual([]);
    expect(read.people.map(({ name, addresses }) => [name, addresses])).toEqual([['Ada Lumo', at]]);
    expect(read.former).toEqual([
      { person: { ...known[0], addresses: [], state: 'suspended' }, notTo: read.people[0]!.id, isSameOwner: true },
    ]);
    const other = `name,roles,channel,address,site,locale\nZed New,worker,sms,+000555010001,oruma,en\n`;
    const taken = readRoster(other, shipped, known, true, { change: true });
    expect(taken.former).toEqual([
      { person: { ...known[0], addresses: [at[1]] }, notTo: taken.people[0]!.id, isSameOwner: false },
    ]);
  });

  it('that was taken off the line is let in again under another name alone, with --change', () => {
    const text = `name,roles,channel,address,site,locale\n${whole[0]}\n`;
    const [ada] = readRoster(text, shipped, [], true).people;
    const off = [{ ...ada!, state: 'suspended' as const }];
    expect(readRoster(text, shipped, off, true, { change: true }).faults).toHaveLength(1);
    const other = text.replace('Ada Lumo', 'Zed New');
    expect(readRoster(other, shipped, off, true).faults).toHaveLength(1);
    expect(readRoster(other, shipped, off, true, { change: true }).people).toHaveLength(1);
  });
});

describe('a roster file that would leave a role empty', () => {
  it.each([
    [
      'all doctors are workers',
      ['Dr Tano,worker,sms,+000555010002,oruma,en', 'Dr Imre,worker,sms,+000555010012,oruma,en'],
      'no doctor would be left on the line',
    ],
    [
      'the coordinator is a worker',
      ['Sela Rune,worker,sms,+000555010004,oruma,en'],
      'no coordinator would be left on the line',
    ],
    [
      'the laboratory of a clinic is another one’s',
      ['Lio Marek,lab,sms,+000555010003,mora,en'],
      'nobody of the laboratory velin would be left on the line, to which the clinic oruma posts',
    ],
  ])('%s: is refused, and nothing is changed', async (_what, lines, why) => {
    await imported(whole);
    const before = await people();
    const good = 'Nia Bok,worker,sms,+000555010099,oruma,en';
    const { exit, out, err } = await imported([...lines, good], '--change');
    expect([exit, out, err]).toEqual([1, '', ` refused, nothing was changed: ${why}\n`]);
    expect(await people()).toEqual(before);
  });

  it('is taken where somebody stays, and where nobody was there before', async () => {
    expect((await imported(whole.slice(0, 2))).exit).toBe(0);
    expect((await imported(whole)).exit).toBe(0);
    expect(await imported(['Dr Imre,worker,sms,+000555010012,oruma,en'], '--change')).toMatchObject({ exit: 0 });
  });
});

describe('a name in a roster file', () => {
  it.each([
    ['SOS', 'word of the line'],
    ['Stop', 'word of the line'],
    ['stop', 'word of the line'],
    ['Nia Stop', 'word of the line'],
    ['LIST', 'word of the line'],
    ['List Nia', 'word of the line'],
    ['Nia YES', 'word of the line'],
    ['Wrong', 'word of the line'],
    ['Dr', 'word of the line'],
    ['S.O.S. Nia', 'word of the line'],
    ['Mr. Reply 10 1 now', 'without digits'],
    ['LAB VELIN has 4 slides. RESULT Thy2', 'without digits'],
    ['Ada Lumo 2', 'without digits'],
    ['Ada ２', 'without digits'],
    ['Nia answered. Reply now', 'two sentences'],
    ['Nia: Bok', '1 to 60 letters'],
    ['Nia ″Bok″', '1 to 60 letters'],
  ])('%s is left out with its line and why', (name, why) => {
    const text = `name,roles,channel,address,site,locale\n${whole[0]}\n"${name}",worker,sms,+000555010077,oruma,en\n`;
    const { people: taken, faults } = readRoster(text, shipped, [], true);
    expect(taken.map((one) => one.name)).toEqual(['Ada Lumo']);
    expect(faults).toEqual([{ line: 3, expected: expect.stringContaining(why) }]);
  });

  it.each(['Zed New', 'Dr Tano', 'Dr. Tano', 'B. Sarr', 'Rune, Sela', 'Prof. Dr. Öz Çelik', "Ada O'Lumo", 'Mila Post'])(
    '%s is a name',
    (name) => {
      const text = `name,roles,channel,address,site,locale\n"${name}",worker,sms,+000555010077,oruma,en\n`;
      expect(readRoster(text, shipped, [], true).faults).toEqual([]);
    },
  );

  it('is held against the words of every language that the line speaks', () => {
    const languages = [...shipped.texts.languages, { tag: 'xx', name: 'Other' }];
    const texts = {
      ...shipped.texts,
      languages,
      keyword: (tag: string, word: string) =>
        tag === 'xx' && word === 'alto' ? 'STOP' : shipped.texts.keyword(tag, word),
    };
    expect(readsLikeTheLine(shipped.texts, 'Nia Alto')).toBeNull();
    expect(readsLikeTheLine(texts, 'Nia Alto')).toBe('word');
  });

  it('has a language that the line speaks beside it', () => {
    const read = (locale: string) =>
      readRoster(`name,roles,channel,address,site,locale\n${whole[0]!.replace(/en$/, locale)}\n`, shipped, [], true);
    expect(read('xx').faults).toEqual([
      { line: 2, expected: 'a language that the line speaks: en, ar, es, fr, pt, sw' },
    ]);
    expect(read('xx').people).toEqual([]);
    for (const tag of ['en', '', 'en-KE']) expect(read(tag).faults).toEqual([]);
  });
});
