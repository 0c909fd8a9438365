import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { demoRosterOf, putDemoRoster } from '../../src/cli/demo-roster.ts';
import { readRoster } from '../../src/cli/roster-file.ts';
import { runStart } from '../../src/cli/start.ts';
import { readSettings } from '../../src/config.ts';
import { emptyRoles } from '../../src/conversation/last-one.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { shipped } from '../support/shipped.ts';

let folder: string;
const at = (...parts: string[]): string => join(folder, ...parts);
const open = () =>
  openStore({ url: `sqlite:${at('neckline.db')}`, keys: openKeyRing(at('neckline.key')), exclusive: false });
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-demo-'));
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

const { programme } = shipped;
const lab = { ...programme.laboratories[0]!, id: 'torin', name: 'Lab Torin' };
const besa = { ...programme.sites[0]!, id: 'besa', name: 'BESA CLINIC', labId: 'torin' };
const own = { ...shipped, programme: { ...programme, id: 'besaline', sites: [besa], laboratories: [lab] } };

describe('the demo roster', () => {
  it.each([
    ['the programme of the package', shipped, ['oruma', 'kesu', 'velin', 'mora']],
    ['a programme with one clinic', own, ['besa', 'torin']],
  ])('of %s has everybody that a case needs, at its first places', (_which, content, places) => {
    const { people, faults } = readRoster(demoRosterOf(content.programme), content, [], true);
    expect(faults).toEqual([]);
    expect(emptyRoles({ roster: people, programme: content.programme })).toEqual([]);
    expect(people.filter((one) => one.roles.includes('doctor'))).toHaveLength(2);
    expect(new Set(people.map((one) => one.siteId))).toEqual(new Set(places));
    expect(people.every(({ addresses }) => addresses.every(({ channel }) => channel === 'bench'))).toBe(true);
  });

  it('is put once for each programme, and nobody who left comes back', async () => {
    const settings = (more: Record<string, string>) => {
      const read = readSettings({ NECKLINE_DATA: folder, ...more });
      if (!read.ok) throw new Error(read.faults.join());
      return read.settings;
    };
    const store = await open();
    await putDemoRoster(store, shipped, settings({}));
    await putDemoRoster(store, own, settings({ NECKLINE_PROGRAMME: at('own.yaml') }));
    expect(await store.roster('tamboro')).toHaveLength(8);
    const [first] = await store.roster('besaline');
    await store.putPeople([{ ...first!, state: 'suspended' }]);
    await putDemoRoster(store, own, settings({ NECKLINE_PROGRAMME: at('own.yaml') }));
    expect((await store.roster('besaline')).filter((one) => one.state === 'suspended')).toHaveLength(1);
    expect(readFileSync(at('demo', 'roster-besaline.csv'), 'utf8')).toMatch(/,bench:worker,besa,en\n/);
    await store.close();
  });

  it('that was changed by hand and cannot be read is refused with all its lines', async () => {
    const store = await open();
    await putDemoRoster(store, shipped, { ...read(), NECKLINE_DATA: folder });
    await store.setMark('demo-roster', 'written');
    await store.close();
    const fresh = mkdtempSync(join(folder, 'fresh-'));
    const other = await openStore({
      url: `sqlite:${join(fresh, 'neckline.db')}`,
      keys: openKeyRing(join(fresh, 'neckline.key')),
      exclusive: false,
    });
    writeFileSync(
      at('demo', 'roster.csv'),
      'name,roles,channel,address,site,locale\nAda,pilot,bench,bench:a,oruma,en\nBeno,worker,bench,bench:b,atlantis,en\n',
    );
    await expect(putDemoRoster(other, shipped, { ...read(), NECKLINE_DATA: folder })).rejects.toThrow(
      /roster\.csv:2: expected roles.*\n.*roster\.csv:3: expected a site/,
    );
    await other.close();
  });
});

function read() {
  const found = readSettings({});
  if (!found.ok) throw new Error(found.faults.join());
  return found.settings;
}

describe('the bench and people who can be dialled', () => {
  async function started(settings: Record<string, string>, args: readonly string[] = []) {
    for (const [name, value] of Object.entries(settings)) vi.stubEnv(name, value);
    let err = '';
    const exit = await runStart(args, {
      stdout: { write: () => true },
      stderr: { write: (text) => (err += text) },
    });
    return { exit, err };
  }
  const put = async (channel: string, address: string): Promise<void> => {
    const store = await open();
    const [ada] = readRoster(demoRosterOf(programme), shipped, [], true).people;
    await store.putPeople([{ ...ada!, addresses: [{ channel, address }] }]);
    await store.close();
  };

  it('keep apart: no bench on a database with real addresses, and no demo people among them', async () => {
    await put('sms', '+000555010001');
    const { exit, err } = await started({ NECKLINE_DATA: folder });
    expect([exit, err]).toEqual([2, expect.stringMatching(/people with real addresses are on the roster/)]);
    expect(existsSync(at('demo'))).toBe(false);
  });

  it('keep apart: no real line on a database with people of the bench', async () => {
    await put('bench', 'bench:worker');
    const keys = mkdtempSync(join(tmpdir(), 'neckline-keys-'));
    writeFileSync(join(keys, 'line.key'), readFileSync(at('neckline.key')), { mode: 0o600 });
    const { exit, err } = await started(
      {
        NECKLINE_DATA: folder,
        NECKLINE_KEY_FILE: join(keys, 'line.key'),
        NECKLINE_PROGRAMME: ownProgramme(keys),
        NECKLINE_TELEGRAM_TOKEN: '55:not-to-be-shown',
        NECKLINE_TELEGRAM_API_ROOT: 'http://127.0.0.1:1',
      },
      ['--trial'],
    );
    rmSync(keys, { recursive: true });
    expect([exit, err]).toEqual([2, expect.stringMatching(/people of the phone bench are on the roster/)]);
  });
});
