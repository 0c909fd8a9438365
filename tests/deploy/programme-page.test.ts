import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { beforeAll, describe, expect, it } from 'vitest';
import { roles } from '../../src/case/roles.ts';
import { runPlay } from '../../src/cli/play.ts';
import { systemNames } from '../../src/clinical/cytology/categories.ts';
import { fluidWays } from '../../src/clinical/fluid.ts';
import { policyIds } from '../../src/clinical/policies/policy.ts';
import { laboratoryStains } from '../../src/clinical/supplies.ts';
import { type Content, packageRoot } from '../../src/content/load.ts';
import { programmeFileKeys } from '../../src/content/programme.ts';
import { alcoholWays, assays, pictureModes, privacyModes, siteOf } from '../../src/conversation/programme.ts';
import { shipped } from '../support/shipped.ts';

const page = readFileSync(new URL('../../deploy/programme.md', import.meta.url), 'utf8');

/** First cells of the table under a heading, without their marks. */
function keysUnder(heading: string): readonly string[] {
  const from = page.indexOf(heading);
  const table = page
    .slice(from)
    .split('\n\n')
    .find((part) => part.startsWith('| '))!;
  return table
    .split('\n')
    .slice(2)
    .flatMap((row) => [...row.split(' | ')[0]!.matchAll(/`([^`]+)`/g)].map((found) => found[1]!));
}

describe('the page that explains the programme', () => {
  it.each([
    ['## Keys of the programme', programmeFileKeys.programme],
    ['### A clinic', programmeFileKeys.site],
    ['### A laboratory', programmeFileKeys.laboratory],
    ['## The roster', ['name', 'roles', 'channel', 'address', 'site', 'locale']],
  ])('has under "%s" every key and no other', (heading, keys) => {
    expect([...keysUnder(heading)].sort()).toEqual([...keys].sort());
  });

  it('names every value that may be chosen', () => {
    const values = [...policyIds, ...privacyModes, ...pictureModes, ...laboratoryStains, ...alcoholWays, ...fluidWays];
    const named = [...values, ...assays, ...roles, ...Object.values(systemNames)];
    expect(named.filter((value) => !page.includes(`\`${value}\``))).toEqual([]);
  });
});

describe('what the page says of open cases', () => {
  let folder: string;
  const phones = [
    'phone w +000555010001 role=worker site=kesu',
    'phone d +000555010002 role=doctor',
    'phone former +000555010003 role=lab site=mora',
    'phone new +000555010004 role=lab site=velin',
  ];
  const play = async (lines: readonly string[], content: Content): Promise<string> => {
    let printed = '';
    const out = { write: (text: string) => (printed += text) };
    const stdin = Readable.from(lines.map((line) => `${line}\n`));
    const io = { stdin, stdout: out, stderr: out };
    expect([await runPlay(['-', '--db', join(folder, 'play.db')], io, () => content), printed]).toEqual([0, printed]);
    return printed;
  };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-changed-'));
    return () => rmSync(folder, { recursive: true, force: true });
  });

  it('holds of a clinic that gets another laboratory while its parcel is on the way', async () => {
    const script = readFileSync(join(packageRoot, 'flows', 'whole-case.play'), 'utf8').split('\n');
    const toPost = script.slice(script.indexOf('w> NEW'), script.indexOf('l< /{a}[ .]{b}/'));
    const [, first = '', second = ''] = /> POST (\d{4})(\d{4})/.exec(await play([...phones, ...toPost], shipped)) ?? [];
    const code = first + second;
    const sites = shipped.programme.sites.map((one) => (one.id === 'kesu' ? { ...one, labId: 'velin' } : one));
    await play(
      [
        ...['at 2030-03-05T08:00:00Z', 'seed 2', ...phones],
        ...[`new> CASE ${code}`, 'new< do not know this code', `former> CASE ${code}`, 'former< on the way'],
        ...['new> LIST', `new< ${first} ${second} KESU CLINIC`, 'former> LIST', 'former< Nothing is on its way'],
        ...['wait 7d', `former< ${first} ${second} from KESU CLINIC`, 'new<! has it come'],
        ...[`new> GOT ${code} 4`, 'new< do not know this code'],
        ...[`former> GOT ${code} 4`, 'former< received: 4 slides'],
        // Its own system, in which IV is no Thy4.
        ...[`former> ${code} Bethesda IV`, `former< READ BACK ${first} ${second}`, 'former< Bethesda IV'],
      ],
      { ...shipped, programme: { ...shipped.programme, sites } },
    );
  });

  it('holds of a clinic that is left out: the first one of the file stands in, under the short name', () => {
    const { programme } = shipped;
    const [first] = programme.sites;
    const left = { ...programme, sites: programme.sites.filter(({ id }) => id !== 'kesu') };
    expect(siteOf(left, 'kesu')).toMatchObject({
      ...{ name: 'kesu', labId: first!.labId, zone: first!.zone, guidance: first!.guidance },
      hospital: programme.hospital,
    });
  });
});
