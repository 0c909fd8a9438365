import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { registry } from '../../src/conversation/matters.ts';
import type { Registry } from '../../src/conversation/moment.ts';
import { DamagedLine } from '../support/damaged-line.ts';

let line: DamagedLine;
let code: string;
beforeEach(async () => {
  line = await DamagedLine.open();
  code = await line.coded();
});
afterEach(async () => {
  expect(await line.sosUnheard()).toEqual([]);
  await line.close();
});

/** The line with a bug: whoever lists patients meets it. */
const broken = (word: string): Registry => ({
  ...registry,
  commands: new Map([
    ...registry.commands,
    [
      word,
      {
        ...registry.commands.get(word)!,
        run: () => {
          throw new Error('a bug');
        },
      },
    ],
  ]),
});

const caseId = (): string => String(line.rows('select id from cases')[0]!.id);
const parked = async (): Promise<number> => (await line.store.parked()).length;

/** SOS, ?, LIST, NEW, DOCTOR all work, and the doctor hears of the alarm. */
async function everythingWorks(): Promise<void> {
  line.heard('w');
  line.heard('d');
  expect(await line.says('w', 'SOS')).toBe('done');
  expect(line.heard('w').join('\n')).toMatch(/HARD BREATHING: (?:always )?sit up, go to hospital NOW/);
  expect(line.heard('d').join('\n')).toMatch(/SOS/);
  for (const text of ['?', 'LIST', 'NEW', 'QX 1970 M', 'LIST', 'DOCTOR may I go on']) {
    expect(await line.says('w', text), text).toBe('done');
    expect(line.heard('w').length, text).toBeGreaterThan(0);
  }
  expect(await parked()).toBe(0);
}

describe('a worker whose open case was erased', () => {
  it('hears so once, the coordinators too, and everything works: SOS, ?, LIST, NEW', async () => {
    await line.store.eraseCase(caseId(), line.now, 'entered-by-mistake');
    await line.later(0);
    expect(line.heard('w')).toEqual([
      expect.stringMatching(/^The programme erased the record of one of your patients\./),
    ]);
    expect(line.heard('c')).toEqual([expect.stringMatching(/^A record was erased while Person w was busy/)]);
    expect(line.heard('v')).toEqual([]);
    await everythingWorks();
    expect(line.heard('w').join()).not.toMatch(/erased/);
    expect(await line.store.verify()).toEqual([]);
  });

  it('is heard with an SOS that comes before anything else could be mended', async () => {
    await line.store.eraseCase(caseId(), line.now, 'patient-asked');
    await everythingWorks();
  });

  it('keeps an alarm that was open: doctors are asked anew, the checks go on', async () => {
    await line.says('w', 'SOS');
    await line.says('d', '?');
    for (const id of ['w', 'd', 'e', 'c']) line.heard(id);
    await line.store.eraseCase(caseId(), line.now, 'patient-asked');
    await line.later(0);
    expect(line.heard('d').join('\n')).toMatch(/Q\d\d.*SOS|SOS.*Q?\d\d/s);
    await line.later(30);
    expect(line.heard('w').join('\n')).toMatch(/how is the patient\?|what is wrong\?/i);
    expect(await parked()).toBe(0);
  });

  it('is mended at the next start where an earlier version erased the case, and audit verify says so before', async () => {
    const id = caseId();
    await line.store.eraseCase(id, line.now, 'patient-asked');
    await line.damage(`delete from due where name = 'mend'`);
    await line.store.takeStock();
    expect((await line.store.verify()).join('\n')).toMatch(
      new RegExp(`conversation of w: names ${id}, which is not there; the line mends this at its next start`),
    );
    await line.restart();
    expect(line.heard('w').join('\n')).toMatch(/erased the record of one of your patients/);
    expect(await line.store.verify()).toEqual([]);
    await everythingWorks();
  });

  it('leaves no due row and no open question, also where an earlier version did', async () => {
    const id = caseId();
    await line.says('w', 'DOCTOR is gel enough');
    await line.store.eraseCase(id, line.now, 'patient-asked');
    await line.later(0);
    await line.damage(`update questions set answered_at = null where case_id = '${id}';
      insert into due (id, programme_id, person_id, case_id, name, due_at, timer)
      values ('old', 'tamboro', 'w', '${id}', 'silent', 1, '{"kind":"timer","frameId":"f","entry":1,"name":"silent","late":"fire"}')`);
    await line.store.takeStock();
    expect((await line.store.verify()).join('\n')).toMatch(/1 due rows are of cases.*\n1 open questions are of cases/);
    await line.restart();
    expect(await line.store.verify()).toEqual([]);
  });
});

describe('a case whose bytes are damaged', () => {
  it('is folded anew from its history, and nobody notices', async () => {
    await line.damage('update cases set fold_sealed = damaged(fold_sealed)');
    expect(await line.says('w', code)).toBe('done');
    expect(line.heard('w').join('\n')).toMatch(/step|needle|READ|GLOVES/i);
    expect(await line.store.verify()).toEqual([]);
    await everythingWorks();
  });

  it('that does not open in any way mutes nobody: whoever had it hears once, the coordinators too', async () => {
    await line.damage(`update cases set fold_sealed = damaged(fold_sealed);
      update case_events set sealed = damaged(sealed) where sequence = 2`);
    expect(await line.says('w', 'LIST')).toBe('done');
    expect(line.heard('w').join('\n')).toMatch(/^I cannot open the record of one of your patients any more/);
    expect(line.heard('c')).toEqual([expect.stringMatching(/^The record of a patient of Person w does not open/)]);
    await everythingWorks();
    expect(line.heard('c').join()).not.toMatch(/does not open/);
    expect(await line.says('v', 'LIST')).toBe('done');
    expect(line.heard('v').join()).toMatch(/AK/);
  });

  it.each([
    ['its key', `update data_keys set wrapped = damaged(wrapped) where id like 'case:%'`],
    ['its initials', 'update cases set tag_sealed = damaged(tag_sealed)'],
    ['a question about it', 'update questions set sealed = damaged(sealed)'],
  ])('%s alone does not mute a worker, a colleague or a doctor', async (_what, sql) => {
    await line.says('w', 'DOCTOR is gel enough');
    await line.damage(sql);
    for (const id of ['w', 'v', 'd']) {
      expect(await line.says(id, 'LIST')).toBe('done');
      expect(line.heard(id).length).toBeGreaterThan(0);
    }
    await line.later(24 * 60);
    await everythingWorks();
  });
});

describe('a conversation whose bytes are damaged', () => {
  it('begins anew: its person hears what to do, TAKE goes on with the patient', async () => {
    await line.damage(`update conversations set sealed = damaged(sealed) where person_id = 'w'`);
    expect(await line.says('w', 'LIST')).toBe('done');
    expect(line.heard('w').join('\n')).toMatch(/^I lost my place with you\..*TAKE and its code/s);
    expect(line.heard('c')).toEqual([expect.stringMatching(/^I lost my place with Person w/)]);
    expect(await line.says('w', `TAKE ${code}`)).toBe('done');
    expect(line.heard('w').join('\n')).toMatch(/is yours already/);
    expect(await line.says('w', '1357H')).toBe('done');
    await everythingWorks();
  });

  it.each([
    ['with the needle in hand', ['{code}'], /When the slides are fixed/],
    ['at the label', ['{code}', '11', '6666', '9'], /Do patient, slides and jar all say the same/],
    ['while the neck is watched', ['{code}', '11', '6666', '9', '1', '7'], /no swelling, is the voice normal/],
  ])('goes on by itself %s: nobody asks for it', async (_where, texts, question) => {
    for (const text of texts) await line.says('w', text.replace('{code}', code));
    await line.damage(`update conversations set sealed = damaged(sealed) where person_id = 'w'`);
    line.heard('w');
    await line.says('w', '?');
    await line.later(60);
    expect(line.heard('w').join('\n')).toMatch(question);
  });

  it('of a doctor does not stop the ladder', async () => {
    await line.damage(`update conversations set sealed = damaged(sealed) where person_id in ('d', 'e')`);
    await line.says('d', '?');
    await line.damage(`update conversations set sealed = damaged(sealed) where person_id = 'd'`);
    await line.says('w', 'SOS');
    expect(line.heard('d').join('\n')).toMatch(/SOS/);
  });
});

describe('a person whose record does not open', () => {
  const shut = `update people set sealed = damaged(sealed) where id = 'w'`;

  it('sends SOS: first aid at once, and doctors and coordinators hear whom to phone', async () => {
    await line.damage(shut);
    expect(await line.says('w', 'please sos')).toBe('parked');
    const [aid, , , told] = line.heard('w');
    expect(aid).toMatch(/HARD BREATHING: (?:always )?sit up, go to hospital NOW/);
    expect(told).toMatch(/^I sent your SOS to Person d/);
    for (const id of ['d', 'e', 'c', 'k']) {
      expect(line.heard(id)[0], id).toMatch(/^SOS from \+00055501\d+, .*: phone \+00055501\d+ NOW/);
    }
  });

  it('sends SOS again: first aid again, the responders not within two minutes', async () => {
    await line.damage(shut);
    await line.says('w', 'SOS');
    for (const id of ['w', 'd']) line.heard(id);
    await line.says('w', 'SOS');
    expect(line.heard('w')[0]).toMatch(/HARD BREATHING/);
    expect(line.heard('d')).toEqual([]);
    await line.later(4);
    await line.says('w', 'SOS');
    expect(line.heard('d')[0]).toMatch(/^SOS from/);
  });

  it('says anything else: a person will look, once in some minutes; the coordinators hear at once and merged', async () => {
    await line.damage(shut);
    expect(await line.says('w', 'LIST')).toBe('parked');
    expect(line.heard('w')).toEqual([
      expect.stringMatching(/^I could not handle your text\. A person will look at it/),
    ]);
    expect(line.heard('c')).toEqual([
      expect.stringMatching(/^I could not handle a text of \+00055501\d+\. 1 wait in all/),
      expect.stringMatching(/^FRESH and the name frees that phone/),
    ]);
    for (let each = 0; each < 5; each += 1) await line.says('w', 'LIST');
    expect([line.heard('w'), line.heard('c')]).toEqual([[], []]);
    await line.later(25);
    expect(line.heard('c')).toEqual([expect.stringMatching(/^There is more that I could not handle/)]);
    await line.says('w', 'LIST');
    expect(line.heard('c')).toEqual([
      expect.stringMatching(/7 wait in all/),
      expect.stringMatching(/^FRESH and the name/),
    ]);
  });

  it('sends STOP: obeyed, and nothing but an SOS is answered with more than a word', async () => {
    await line.damage(shut);
    await line.says('w', 'stop');
    expect(line.heard('w')).toEqual([expect.stringMatching(/^STOPPED/)]);
    expect(line.rows(`select state from people where id = 'w'`)).toEqual([{ state: 'stopped' }]);
    expect(line.heard('c').join('\n')).toMatch(
      /^\+00055501\d+ sent STOP, and I do not reach \+00055501\d+ any more\..*HANDOVER/,
    );
    await line.says('w', 'STOP');
    expect(line.heard('w')).toEqual([]);
    await line.says('w', 'SOS');
    expect(line.heard('w')[0]).toMatch(/HARD BREATHING/);
  });

  it('is not answered twice when the network delivers again, after a restart too', async () => {
    await line.damage(shut);
    expect(await line.says('w', 'SOS', 'once')).toBe('parked');
    line.heard('w');
    expect(await line.says('w', 'SOS', 'once')).toBe('duplicate');
    await line.restart();
    expect(await line.says('w', 'SOS', 'once')).toBe('duplicate');
    expect(line.heard('w')).toEqual([]);
    expect(await parked()).toBe(1);
  });
});

describe('a step that meets a bug', () => {
  it('answers an SOS all the same, by the name and the number of the sender', async () => {
    await line.restart(broken('SOS'));
    expect(await line.says('w', 'SOS')).toBe('parked');
    expect(line.heard('w')[0]).toMatch(/HARD BREATHING/);
    expect(line.heard('d')).toEqual([expect.stringMatching(/^SOS from Person w, .*: phone \+000555\d+ NOW/)]);
    expect(line.heard('c')[0]).toMatch(/^SOS from Person w/);
    expect(line.logged.filter((one) => one.includes('event-parked'))).toHaveLength(1);
    expect(line.logged.join()).not.toMatch(/Person w|\+000555/);
  });

  it('says that nobody could be reached where nobody can, never that a doctor was', async () => {
    await line.damage(
      `update people set state = 'suspended' where id <> 'w'; update rosters set version = version + 1`,
    );
    await line.damage('update people set changed_in = 99; update rosters set version = 99', broken('SOS'));
    await line.says('w', 'SOS');
    expect(line.heard('w').join('\n')).toMatch(/I could reach nobody for you, not even a doctor/);
  });

  it('brings a doctor the alarm straight, where it cannot be shown in the doctor’s conversation', async () => {
    const values = new Map([
      ...registry.values,
      [
        'sosWho',
        () => {
          throw new Error('a bug');
        },
      ] as const,
    ]);
    await line.restart({ ...registry, values });
    await line.says('w', 'SOS');
    expect(line.heard('w').join('\n')).toMatch(/HARD BREATHING/);
    expect(line.heard('d').join('\n')).toMatch(/^The SOS is open: Person w, .*Phone \+000555\d+ NOW/);
  });
});

describe('FRESH', () => {
  it('by the digits sent to the coordinator: questions to that phone are closed, patients stay', async () => {
    await line.restart(broken('LIST'));
    await line.says('w', 'LIST');
    await line.restart();
    await line.says('c', 'FRESH Person w');
    const digits = /send (\d{4})/.exec(line.heard('c').join('\n'))![1]!;
    line.heard('w');
    await line.says('c', digits);
    expect(line.heard('c').join('\n')).toMatch(/The phone of Person w begins anew/);
    expect(line.heard('w')).toEqual([expect.stringMatching(/^Person c gave this phone a fresh start/)]);
    await line.says('w', 'LIST');
    expect(line.heard('w').join('\n')).toMatch(/AK \d{4} \d{4}/);
    await line.says('w', `TAKE ${code}`);
    expect(line.heard('w').join('\n')).toMatch(/what do you have|at hand|syringe/i);
  });

  it('leaves an open alarm with the doctors', async () => {
    await line.says('w', 'SOS');
    await line.says('c', 'FRESH Person w');
    await line.says('c', /send (\d{4})/.exec(line.heard('c').join('\n'))![1]!);
    line.heard('e');
    await line.later(6);
    expect(line.heard('e').join('\n')).toMatch(/SOS/);
  });

  it('is no word for a worker', async () => {
    await line.says('v', 'FRESH Person w');
    expect(line.heard('v').join('\n')).toMatch(/not a word for you/);
    expect(line.heard('w')).toEqual([]);
  });
});

describe('TAKE of a patient whose thread is gone', () => {
  it.each([
    ['before the needle', [], /syringe/],
    ['with the code written', ['{code}'], /needle/],
    ['after the needle', ['{code}', '11'], /needle/],
    ['at the label', ['{code}', '11', '6666', '9'], /WRITE|write|jar/],
    ['while the neck is watched', ['{code}', '11', '6666', '9', '1', '7'], /neck|patient stays|alcohol/i],
  ])('goes on %s', async (_where, texts, question) => {
    for (const text of texts) await line.says('w', text.replace('{code}', code));
    line.heard('w');
    await line.damage(`update conversations set sealed = damaged(sealed) where person_id = 'w'`);
    expect(await line.says('w', `TAKE ${code}`)).toBe('done');
    const said = line.heard('w').join('\n');
    const asked = said.slice(said.indexOf('is yours already'));
    await line.later(60);
    // While the neck is watched nothing is asked before its time.
    expect(texts.length === 6 ? line.heard('w').join('\n') : asked).toMatch(question);
    expect(await parked()).toBe(0);
    await everythingWorks();
  });
});
