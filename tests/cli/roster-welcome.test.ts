import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { runRoster } from '../../src/cli/roster.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-welcome-'));
  const shipped = readFileSync(new URL('../../flows/programme.yaml', import.meta.url), 'utf8');
  writeFileSync(join(folder, 'programme.yaml'), shipped.replace('name: Tamboro', 'name: Hill'));
  vi.stubEnv('NECKLINE_DATA', join(folder, 'data'));
  vi.stubEnv('NECKLINE_PROGRAMME', join(folder, 'programme.yaml'));
});
afterAll(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

/** Imports these lines; gives the names of everybody who is to be welcomed then, by their due rows. */
async function imported(...lines: readonly string[]): Promise<readonly string[]> {
  const file = join(folder, 'roster.csv');
  writeFileSync(file, `name,roles,channel,address,site,locale\n${lines.join('\n')}\n`);
  const said: string[] = [];
  const io = { write: (text: string) => said.push(text) };
  expect(await runRoster(['import', file, '--change'], { stdout: io, stderr: io }), said.join('')).toBe(0);
  const store = await openStore({
    url: `sqlite:${join(folder, 'data', 'neckline.db')}`,
    keys: openKeyRing(join(folder, 'data', 'neckline.key')),
  });
  const names = new Map((await store.roster('tamboro')).map(({ id, name }) => [id, name]));
  const due = await store.dueBefore(Date.now() + 2 * 86_400_000, 99);
  await store.close();
  // By name: at night all wait for the same morning.
  return due
    .flatMap(({ what, personId }) => (what.kind === 'welcome' ? [names.get(personId ?? '') ?? '?'] : []))
    .sort();
}

describe('roster import', () => {
  it('has the line welcome whoever is new and can be texted first: once, and not for another role', async () => {
    const ada = 'Ada Lumo,worker,sms,+000555010001,oruma,en';
    const others = ['Lio Marek,lab,telegram,5501,velin,en', 'Beno Sarr,worker,bench,bench:beno,oruma,en'];
    expect(await imported(ada, ...others)).toEqual(['Ada Lumo']);
    expect(await imported(ada, 'Dr Tano,doctor,sms,+000555010002,oruma,en')).toEqual(['Ada Lumo', 'Dr Tano']);
    expect(await imported(ada.replace('worker', 'worker+coordinator'))).toHaveLength(2);
  });
});
