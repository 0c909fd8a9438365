import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { dutyRules } from '../../src/case/duty.ts';
import { parseDuration } from '../../src/content/duration.ts';
import { loadContent, packageRoot } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';
import { readProgramme } from '../../src/content/programme.ts';
import { siteOf } from '../../src/conversation/programme.ts';
import { shipped } from '../support/shipped.ts';
import { spoilt } from './package-fixture.ts';

const text = readFileSync(join(packageRoot, 'flows/programme.yaml'), 'utf8');
const lineOf = (piece: string) => text.slice(0, text.indexOf(piece)).split('\n').length;
const problems = (piece: string, by: string) =>
  readProgramme('flows/programme.yaml', spoilt(text, piece, by)).problems.map(problemLine);

/** Every source file of ours. */
function sources(): readonly string[] {
  return readdirSync(join(packageRoot, 'src'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => readFileSync(join(packageRoot, 'src', name), 'utf8'));
}

describe('a duration', () => {
  it.each([
    ['45s', 45_000],
    ['10m', 600_000],
    ['24h', 86_400_000],
    ['7d', 604_800_000],
    ['0m', null],
    ['10', null],
    ['1.5h', null],
    ['10 m', null],
    ['10M', null],
  ])('%s is %s ms', (written, ms) => {
    expect(parseDuration(written)).toBe(ms);
  });
});

describe('the programme in the package', () => {
  const { programme } = shipped;

  it('is sound', () => {
    expect(readProgramme('flows/programme.yaml', text).problems).toEqual([]);
  });

  it('a site without places of its own has those of the programme', () => {
    const { hospital, night, voiceNumber } = programme;
    expect(siteOf(programme, 'oruma')).toMatchObject({ hospital, night, voiceNumber });
    expect(siteOf(programme, 'nowhere')).toMatchObject({ hospital, night, voiceNumber });
  });

  it('a site has a hospital, a place to go at night and a number of its own', () => {
    const own = text.replace(
      'zone: Africa/Nairobi, guidance: false }',
      'zone: Africa/Nairobi, guidance: false, hospital: Kesu Mission, night: Mission gate, voiceNumber: "+000 555 0111" }',
    );
    const read = readProgramme('flows/programme.yaml', own);
    expect(read.problems).toEqual([]);
    const places = { hospital: 'Kesu Mission', night: 'Mission gate', voiceNumber: '+000 555 0111' };
    expect(siteOf(read.programme!, 'kesu')).toMatchObject(places);
    expect(siteOf(read.programme!, 'oruma').hospital).toBe(programme.hospital);
  });

  it.each([
    ['hospital: Tamboro Hospital', `hospital: ${'H'.repeat(37)}`, 'hospital'],
    ['night: Tamboro Hospital, gate 2', `night: ${'N'.repeat(37)}`, 'night'],
  ])('a name that fits no text is refused: %s', (from, to, path) => {
    const { problems } = readProgramme('flows/programme.yaml', text.replace(from, to));
    expect(problems.map((one) => one.path)).toEqual([path]);
  });

  it.each([
    ['{ hours: 72 }', 72],
    ['{ hours: 24 }', 24],
    ['{ hours: 72, longer: { hours: 168, who: "Dr Tano", when: 2030-01-01 } }', 168],
    ['{ hours: 96 }', null],
    ['{ hours: 72, longer: { hours: 168 } }', null],
    ['{ hours: 72, longer: { hours: 168, who: "", when: 2030-01-01 } }', null],
    ['{ hours: 72, longer: { hours: 48, who: "Dr Tano", when: 2030-01-01 } }', null],
  ])('an INR counts longer only as a choice of somebody named, on a day: %s', (chosen, hours) => {
    const read = readProgramme('flows/programme.yaml', text.replace('inr: { hours: 72 }', `inr: ${chosen}`));
    expect(read.programme?.inrHours ?? null).toBe(hours);
  });

  it('asks no laboratory for a test that it does not name, and knows no other tests', () => {
    const assays = Object.fromEntries(programme.laboratories.map((one) => [one.id, one.assays]));
    expect(assays).toEqual({ velin: [], mora: ['thyroglobulin', 'calcitonin'] });
    expect(problems('assays: [thyroglobulin, calcitonin]', 'assays: [elastography]')).toHaveLength(1);
  });

  it('cannot be dialled', () => {
    expect(programme.voiceNumber).toBe('bench:voice');
  });

  it('climbs faster the more urgent it is', () => {
    const first = ['now', 'waiting', 'today', 'question', 'this-week', 'routine'].map(
      (name) => programme.urgencies[name]!.climbMs[0]!,
    );
    expect(first).toEqual([...first].sort((a, b) => a - b));
    expect(programme.urgencies.now!.daytime).toBe(false);
    expect(programme.urgencies.waiting!.daytime).toBe(false);
  });

  it('keeps slides in alcohol at least 15 minutes', () => {
    // At least 15 min in 95 % ethanol: IARC Atlas of breast cancer early detection, fixation of aspirates.
    expect(programme.durations['alcohol-minimum']).toBeGreaterThanOrEqual(15 * 60_000);
  });

  it('says of each duration and limit why it is so', () => {
    const numbers = text.split('\n').filter((line) => /^ {2}[a-z0-9-]+: \d/u.test(line));
    expect(numbers.length).toBeGreaterThan(60);
    expect(numbers.filter((line) => !/# \S/u.test(line))).toEqual([]);
  });

  it('has every duration and limit that the code names', () => {
    const names = (call: string) =>
      sources().flatMap((source) =>
        [...source.matchAll(new RegExp(`${call}\\([^)]*?'([a-z0-9-]+)'\\)`, 'gu'))].map((found) => found[1]!),
      );
    expect(names('durationOf').filter((name) => !(name in programme.durations))).toEqual([]);
    expect(names('limitOf').filter((name) => !(name in programme.limits))).toEqual([]);
    const duties = Object.values(dutyRules).flatMap((rule) => [rule.within, rule.again]);
    const lanes = ['sos', 'reply', 'notice', 'reminder'].map((lane) => `valid-${lane}`);
    expect([...duties, ...lanes, 'duty-action-pressing'].filter((name) => !(name in programme.durations))).toEqual([]);
  });
});

describe('a duration or limit that stands in the programme', () => {
  it('is read by a flow or by code', () => {
    const { programme } = shipped;
    const flows = readdirSync(join(packageRoot, 'flows'))
      .filter((name) => name.endsWith('.yaml') && name !== 'programme.yaml')
      .map((name) => readFileSync(join(packageRoot, 'flows', name), 'utf8'));
    const all = [...sources(), ...flows].join('\n');
    const made = /^(valid|stock-low|stock-patient)-/;
    const names = [...Object.keys(programme.durations), ...Object.keys(programme.limits)];
    const unread = names.filter((name) => !new RegExp(`[' ]${name}\\b(?!-)`).test(all) && !made.test(name));
    expect(unread).toEqual([]);
  });
});

describe('a programme is refused with line and hint for', () => {
  it.each([
    [
      'a misspelt key',
      'privacy: by-hand',
      'privcy: by-hand',
      'privacy: by-hand',
      'privcy  unknown key privcy  did you mean privacy?',
    ],
    [
      'a zone that does not exist',
      '\nzone: Africa/Nairobi',
      '\nzone: Africa/Nairobbi',
      'zone: Africa',
      'zone  is not a time zone',
    ],
    [
      'a duration without its unit',
      'receipt: 7d',
      'receipt: 7',
      'receipt: 7d',
      'durations.receipt  should be a string',
    ],
    [
      'a duration in another form',
      'receipt: 7d',
      'receipt: 1 week',
      'receipt: 7d',
      'durations.receipt  is not written as expected',
    ],
    [
      'seconds where a clock with minutes is shown',
      'alcohol-minimum: 20m',
      'alcohol-minimum: 4s',
      'alcohol-minimum: 20m',
      'durations.alcohol-minimum  is told in whole minutes  give whole minutes, e.g. 1m',
    ],
    [
      'minutes where hours are told',
      'join-number: 72h',
      'join-number: 90m',
      'join-number: 72h',
      'durations.join-number  is told in whole hours',
    ],
    [
      'hours where days are told',
      'going-home-words: 48h',
      'going-home-words: 36h',
      'going-home-words: 48h',
      'durations.going-home-words  is told in whole days',
    ],
    [
      'an unknown policy',
      'policy: common-practice',
      'policy: tirads',
      'policy: common',
      'policy  is not one of the known values  use one of: common-practice',
    ],
    [
      'a site without its laboratory',
      'lab: mora',
      'lab: moro',
      '  kesu:',
      'sites.kesu.lab  there is no laboratory moro  use one of: velin, mora',
    ],
    [
      'a day that ends before it begins',
      'from: 7, to: 19',
      'from: 19, to: 7',
      'daytime:',
      'daytime  ends before it begins',
    ],
    [
      'the governing policy among the others',
      'shown: [acr-2017',
      'shown: [common-practice, acr-2017',
      'shown:',
      'shown  common-practice governs already',
    ],
  ])('%s', (_title, piece, by, where, expected) => {
    const start = `flows/programme.yaml:${lineOf(where)}  ${expected}`;
    expect(problems(piece, by).filter((line) => line.startsWith(start))).toHaveLength(1);
  });
});

describe('a programme of an operator, after an upgrade', () => {
  const ownProgramme = (change: (text: string) => string): readonly string[] => {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-programme-'));
    const file = join(folder, 'own.yaml');
    writeFileSync(file, change(text));
    const { problems } = loadContent(undefined, file);
    rmSync(folder, { recursive: true });
    return problems.map(({ path, what, todo }) => `${path} ${what}: ${todo}`);
  };

  it('is taken when it has all names of the shipped one, whatever their values', () => {
    expect(ownProgramme((own) => own.replace('receipt: 7d', 'receipt: 9d'))).toEqual([]);
  });

  it('is refused before anybody depends on it when a name is lacking, or is read by nobody', () => {
    expect(ownProgramme((own) => own.replace(/ {2}keep-closed: .*\n/, ''))).toEqual([
      "durations.keep-closed is missing: take keep-closed over from the package's flows/programme.yaml",
    ]);
    expect(ownProgramme((own) => own.replace('  misses: ', '  mises: 3 # slip\n  misses: '))).toEqual([
      'limits.mises is read by nobody: did you mean misses?',
    ]);
    expect(ownProgramme((own) => own.replace(/ {2}routine: .*\n/, ''))).toEqual([
      "urgencies.routine is missing: take routine over from the package's flows/programme.yaml",
    ]);
  });
});
