import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runInvite } from '../../src/cli/invite.ts';
import { runRoster } from '../../src/cli/roster.ts';
import { BotApiServer } from '../support/bot-api-server.ts';
import { ownProgramme } from '../support/own-programme.ts';

let folder: string;
let server: BotApiServer;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-invite-'));
  server = await BotApiServer.start();
  vi.stubEnv('NECKLINE_DATA', join(folder, 'data'));
  vi.stubEnv('NECKLINE_PROGRAMME', ownProgramme(folder));
  vi.stubEnv('NECKLINE_TELEGRAM_TOKEN', '55:not-to-be-shown');
  vi.stubEnv('NECKLINE_TELEGRAM_API_ROOT', server.root);
  vi.stubEnv('NECKLINE_KEY_FILE', join(folder, 'line.key'));
  const file = join(folder, 'roster.csv');
  const people = ['Ada Lumo,worker,sms,+000555010001,oruma,en', 'Ada Lumo,worker,sms,+000555010002,kesu,en'];
  const more = ['Dr Tano,doctor,sms,+000555010003,oruma,en'];
  writeFileSync(file, ['name,roles,channel,address,site,locale', ...people, ...more].join('\n'));
  expect((await run(runRoster, 'import', file)).exit).toBe(0);
});
afterEach(async () => {
  vi.unstubAllEnvs();
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function run(command: typeof runInvite, ...args: string[]) {
  const written = { out: '', err: '' };
  const exit = await command(args, {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  expect(written.out + written.err).not.toContain('not-to-be-shown');
  return { exit, ...written };
}

const link = /^https:\/\/t\.me\/neckline_test_bot\?start=i-[0-9a-f]{12}-[\w-]{32}\n$/m;

describe('neckline invite', () => {
  it.each(['Dr Tano', 'dr tano', '+000555010003', 'sms:+000555010003'])('prints a link for %s', async (who) => {
    const { exit, out } = await run(runInvite, who);
    expect(exit).toBe(0);
    expect(out).toMatch(/^Dr Tano \(p-\w+\) may join on Telegram within 72 h, once:$/m);
    expect(out).toMatch(link);
  });

  it('adds somebody new, who can then be invited anew by name', async () => {
    expect((await run(runInvite, '--add', 'doctor+coordinator', 'oruma', 'Nia', 'Bok')).out).toMatch(link);
    expect((await run(runInvite, 'Nia Bok')).out).toMatch(link);
  });

  it('without a way to Telegram prints what to send to the bot', async () => {
    server.order('getMe', 'bad-gateway');
    const { exit, out } = await run(runInvite, 'Dr Tano');
    expect([exit, out]).toEqual([0, expect.stringMatching(/send: \/start i-[0-9a-f]{12}-[\w-]{32}\n$/)]);
  });

  it.each([
    ['nobody of that name', ['Nobody'], 'nobody of that id, name or address'],
    ['two of one name', ['Ada Lumo'], 'several of that name: p-'],
    [
      'a name that reads like the line',
      ['--add', 'worker', 'oruma', 'Stop', 'Nia'],
      'expected a name that does not read',
    ],
    ['a role that is none', ['--add', 'pilot', 'oruma', 'Nia'], 'expected roles of worker'],
    ['a place that is none', ['--add', 'lab', 'oruma', 'Nia'], 'expected a place: velin'],
  ])('for %s says so and invites nobody', async (_, args, said) => {
    const { exit, out, err } = await run(runInvite, ...args);
    expect([exit, out]).toEqual([1, '']);
    expect(err).toContain(said);
  });

  it.each([[[]], [['--add', 'worker', 'oruma']], [['--all']]])('refuses %j with the usage', async (args) => {
    expect((await run(runInvite, ...args)).exit).toBe(2);
  });
});
