import { describe, expect, it } from 'vitest';
import { type Facts, missingOf } from '../../../src/cli/ready/missing.ts';
import { standingWords, unready } from '../../../src/cli/ready/start.ts';
import type { Programme } from '../../../src/conversation/programme.ts';
import type { Person } from '../../../src/conversation/world.ts';
import { shipped } from '../../support/shipped.ts';
import { person } from '../../support/world.ts';

const now = Date.UTC(2030, 2, 4, 8);
const hourMs = 3_600_000;
const invented = shipped.programme;

/** A programme with names of its own. */
const programme: Programme = {
  ...invented,
  name: 'Thyroid line of the hills',
  ...{ hospital: 'Hill Hospital', night: 'Hill Hospital, gate 1', voiceNumber: '+111 555 0100' },
  sites: invented.sites.map((site) => ({
    ...site,
    name: `CLINIC ${site.id}`,
    ...{ hospital: 'Hill Hospital', night: 'Hill Hospital, gate 1', voiceNumber: '+111 555 0100' },
  })),
  laboratories: invented.laboratories.map((lab) => ({ ...lab, name: `Laboratory ${lab.id}`, address: `${lab.id} 1` })),
};

const at = (id: string, role: string, siteId: string, number: string, practised = true): Person => ({
  ...person(id, role as never),
  ...{ siteId, practised, addresses: [{ channel: 'sms', address: `+111555010${number}` }] },
});
const roster: readonly Person[] = [
  at('w1', 'worker', 'oruma', '1'),
  at('w2', 'worker', 'kesu', '2'),
  at('d1', 'doctor', 'oruma', '3'),
  at('d2', 'doctor', 'oruma', '4'),
  at('l1', 'lab', 'velin', '5'),
  at('l2', 'lab', 'mora', '6'),
  at('c1', 'coordinator', 'oruma', '7'),
];

/** A line to which nothing is missing. */
const whole: Facts = {
  ...{ now, programme, invented, roster },
  ownProgramme: true,
  links: ['SMS'],
  backup: { own: true, key: true, lastAt: now - 6 * hourMs, lateMs: 26 * hourMs },
  alertsElsewhere: true,
  unsigned: { conventions: 0, languages: [] },
  faults: [],
};

const without = (...ids: readonly string[]): readonly Person[] => roster.filter(({ id }) => !ids.includes(id));
const withSites = (changed: Partial<Programme['sites'][number]>): Programme => ({
  ...programme,
  sites: programme.sites.map((site, place) => (place === 0 ? { ...site, ...changed } : site)),
});

describe('what is missing before a patient may be served', () => {
  it('is nothing where everybody and everything is there', () => {
    expect(missingOf(whole)).toEqual([]);
  });

  it.each<[string, Partial<Facts>, readonly string[]]>([
    ['one doctor', { roster: without('d2') }, ['start doctors']],
    [
      'a second doctor who left by STOP',
      { roster: without('d2').concat({ ...roster[3]!, state: 'stopped' }) },
      ['start doctors'],
    ],
    ['no coordinator', { roster: without('c1') }, ['start coordinator']],
    ['a clinic without its laboratory', { roster: without('l2') }, ['start laboratory.kesu']],
    ['a clinic without a worker', { roster: without('w2') }, ['patients worker.kesu']],
    ['the invented programme itself', { ownProgramme: false }, ['start invented-programme']],
    ['the invented name', { programme: { ...programme, name: invented.name } }, ['start invented-name']],
    [
      'the invented hospital of one clinic',
      { programme: withSites({ hospital: invented.hospital }) },
      ['start invented-hospital.oruma'],
    ],
    [
      'the invented laboratory',
      { programme: { ...programme, laboratories: invented.laboratories } },
      [
        'start invented-name.velin',
        'start invented-address.velin',
        'start invented-name.mora',
        'start invented-address.mora',
      ],
    ],
    [
      'a voice number of the bench',
      { programme: withSites({ voiceNumber: 'bench:voice' }) },
      ['every-start voiceNumber.oruma'],
    ],
    [
      'a voice number of an example',
      { programme: withSites({ voiceNumber: '+000 555 019999' }) },
      ['patients voiceNumber.oruma'],
    ],
    ['no place to go at night', { programme: withSites({ night: ' ' }) }, ['every-start night.oruma']],
    [
      'a phone of an example',
      { roster: without('w1').concat({ ...roster[0]!, addresses: [{ channel: 'sms', address: '+9995550101' }] }) },
      ['patients numbers'],
    ],
    [
      'somebody on the bench alone',
      { roster: [...roster, { ...roster[0]!, id: 'w3', addresses: [{ channel: 'bench', address: 'bench:w' }] }] },
      ['patients bench'],
    ],
    ['nobody who practised', { roster: roster.map((one) => ({ ...one, practised: false })) }, ['nothing practised']],
    ['no link', { links: [] }, ['every-start link']],
    ['no key for backups', { backup: { ...whole.backup, key: false } }, ['patients backup-key']],
    ['no backup yet', { backup: { ...whole.backup, lastAt: null } }, ['patients backup']],
    ['a backup of three days ago', { backup: { ...whole.backup, lastAt: now - 72 * hourMs } }, ['patients backup']],
    ['nothing where the server makes the backups', { backup: { ...whole.backup, own: false, key: false } }, []],
    [
      'a copy by the server that nobody noted',
      { backup: { ...whole.backup, own: false, lastAt: null } },
      ['patients backup'],
    ],
    ['no second way for alerts', { alertsElsewhere: false }, ['nothing alerts']],
    ['values that nobody signed', { unsigned: { conventions: 3, languages: [] } }, ['patients unsigned']],
    ['a language that nobody read', { unsigned: { conventions: 0, languages: ['English'] } }, ['patients languages']],
  ])('%s', (_what, other, wanted) => {
    const missing = missingOf({ ...whole, ...other });
    expect(missing.map(({ holdsUp, id }) => `${holdsUp} ${id}`)).toEqual(wanted);
    for (const { what, mend } of missing) expect(`${what} ${mend}`).toMatch(/^[A-Z].*[^.]\. [A-Z].*[^.]\.$/);
  });

  it('names nobody of the roster: the list may be sent on', () => {
    const bench = roster.map((one) => ({
      ...one,
      name: 'Ada Lumo',
      addresses: [{ channel: 'sms', address: '+000555010001' }],
    }));
    const said = JSON.stringify(missingOf({ ...whole, roster: bench }));
    expect(said).toContain('7 people of the roster');
    expect(said).not.toMatch(/Ada|5550/);
  });

  it('a coordinator with an address on a second link hears when the first is down', () => {
    const two = [...roster[6]!.addresses, { channel: 'telegram', address: '55' }];
    const missing = missingOf({
      ...whole,
      alertsElsewhere: false,
      roster: without('c1').concat({ ...roster[6]!, addresses: two }),
    });
    expect(missing).toEqual([]);
  });
});

describe('a setting with a fault', () => {
  const fault = 'NECKLINE_TELEGRAM_TOKEN_FILE: cannot be read';

  it('holds up every start, and what it would have said is not called missing', () => {
    const found = missingOf({ ...whole, links: [], roster: without('d2'), faults: [fault] });
    expect(found.map(({ id, holdsUp }) => [id, holdsUp])).toEqual([
      ['setting NECKLINE_TELEGRAM_TOKEN_FILE', 'every-start'],
      ['doctors', 'start'],
    ]);
    expect(found[0]!.what).toBe(`${fault}.`);
  });

  it('of a key or an alert hides neither the other', () => {
    const faults = ['neckline.env:4: NECKLINE_BACKUP_KEY: expected a whole path'];
    const ids = missingOf({
      ...{ ...whole, faults, alertsElsewhere: false },
      backup: { ...whole.backup, key: false },
    }).map(({ id }) => id);
    expect(ids).toEqual(['setting NECKLINE_BACKUP_KEY', 'alerts']);
  });
});

describe('a start on real channels', () => {
  const bare: Facts = {
    ...whole,
    ...{ roster: [], programme: invented, ownProgramme: true, unsigned: { conventions: 3, languages: ['English'] } },
  };

  it('is refused with a line for each thing of an incomplete programme, and for nothing else', () => {
    const lines = unready(bare, false);
    for (const word of [
      'voice number',
      'Tamboro thyroid line',
      'doctor',
      'coordinator',
      'laboratory velin',
      'laboratory mora',
    ])
      expect(
        lines.filter((line) => line.includes(word)),
        word,
      ).not.toEqual([]);
    expect(lines.join()).not.toMatch(/signed|backup|worker/);
    expect(unready({ ...whole, unsigned: bare.unsigned, backup: { ...whole.backup, lastAt: null } }, false)).toEqual(
      [],
    );
  });

  it('says how it is tried without patients, where a trial would start', () => {
    const hint = 'To try the line without patients: neckline start --trial.';
    expect(unready({ ...whole, roster: without('d2') }, false).at(-1)).toBe(hint);
    expect(unready(bare, false)).not.toContain(hint);
    expect(unready(whole, false)).toEqual([]);
  });

  it('as a trial lacks all but whom to call and where to go', () => {
    expect(unready(bare, true)).toHaveLength(1);
    expect(unready({ ...bare, programme }, true)).toEqual([]);
  });

  it('says in one line what is unsigned, and that it is a trial', () => {
    expect(standingWords(whole, false)).toBe('');
    expect(standingWords(bare, false)).toBe(
      'Unsigned: 3 values that no clinician has signed, and texts in English that nobody has read (neckline sign)\n',
    );
    expect(standingWords(whole, true)).toMatch(/^This is a trial: [^\n]+\n$/);
  });
});
