import { afterEach, describe, expect, it } from 'vitest';
import { bringTo, Clinic, type Place } from '../support/clinic.ts';

let clinic: Clinic;
afterEach(() => clinic.close());

async function at(place: Place): Promise<string> {
  clinic = new Clinic();
  const code = await bringTo(clinic, place);
  clinic.heard();
  return code;
}

const history = async (code: string) => {
  const store = await clinic.store();
  const of = await store.findCase('tamboro', code);
  return (await store.history(of!.id)).map((one) => one.event.type);
};

describe('somebody who writes as the doctor', () => {
  it('has three tries of ninety at a tag: then the tag is longer, the real doctor reads it, the coordinator hears', async () => {
    await at('result');
    const tag = clinic.found('d', /Q(\d\d) TODAY/);
    const wrong = Array.from({ length: 90 }, (_, one) => String(one + 10)).filter((one) => one !== tag);
    let tries = 0;
    let told: readonly string[] = [];
    while (told.length === 0 && tries < wrong.length) {
      await clinic.text('d', `${wrong[tries]} 1`, true);
      tries += 1;
      told = clinic.heardBy('c');
    }
    expect(tries).toBe(3);
    expect(told.join()).toContain('Wrong tags or wrong confirming digits keep coming from the phone of d');
    const before = clinic.snapshot();
    await clinic.text('d', `${tag} 1`, true);
    expect(clinic.snapshot()).toBe(before);
    const longer = clinic.found('d', /Q(\d{4}) TODAY/);
    await clinic.text('d', `${longer} 1`);
    expect(clinic.snapshot()).not.toBe(before);
  });

  it('wins nothing by going slowly: the tries of a whole day count', async () => {
    await at('result');
    const tag = clinic.found('d', /Q(\d\d) TODAY/);
    for (const wrong of ['10 1', '12 1', '13 1'].filter((one) => !one.startsWith(tag))) {
      await clinic.text('d', wrong, true);
      await clinic.play('wait 2h');
    }
    expect(clinic.heardBy('c').join()).toContain('Wrong tags or wrong confirming digits');
  });

  it('does not guess unseen behind a question of the doctor that is open', async () => {
    await at('result');
    const tag = clinic.found('d', /Q(\d\d) TODAY/);
    await clinic.text('d', 'SOS', true);
    for (const wrong of ['91 1', '92 1', '93 1', '94 1'].filter((one) => !one.startsWith(tag)))
      await clinic.text('d', wrong, true);
    expect(clinic.heardBy('c').join()).toContain('Wrong tags or wrong confirming digits');
  });

  it('gets nothing that lets go by a bare digit, on any question', async () => {
    await at('result');
    for (let digit = 0; digit <= 9; digit += 1) {
      if (digit === 2) continue;
      const before = clinic.snapshot();
      await clinic.text('d', String(digit), true);
      expect(clinic.snapshot(), String(digit)).toBe(before);
    }
  });

  it('may call a case wrong, which stops it, and may not let it go on', async () => {
    const code = await at('to-post');
    await clinic.play(`d> CASE ${code}`);
    await clinic.text('d', 'WRONG', true);
    expect(await history(code)).toContain('frozen');
    for (const text of ['1', 'YES', 'RELEASE', '10 1', 'START']) await clinic.text('d', text, true);
    expect(await history(code)).not.toContain('released');
  });
});

describe('somebody who writes as the laboratory', () => {
  it('has two tries of nine thousand at a read-back, before the year on the slide: then results are locked', async () => {
    const code = await at('read-back');
    const challenge = Number(clinic.found('l', /YES (\d{4})/));
    const wrong = challenge === 9999 ? 1000 : challenge + 1;
    let tries = 0;
    while (!(await history(code)).includes('results-locked') && tries < 20) {
      tries += 1;
      await clinic.text('l', `YES ${wrong} 1982`, true);
      if (tries === 1) {
        clinic.heard();
        await clinic.text('l', `${code} Thy2`, true);
      }
    }
    expect(tries).toBe(2);
    expect(clinic.heardBy('c').join()).toContain('I take no results by text');
    // The right number and year do not help any more, nor does a new result.
    for (const text of [`YES ${challenge} 1982`, `${code} Thy2`, `YES ${challenge} 1982`]) {
      await clinic.text('l', text, true);
    }
    expect(await history(code)).not.toContain('result-filed');
  });

  it('is not let off by asking anew: wrong confirmations of one specimen add up', async () => {
    const code = await at('read-back');
    await clinic.text('l', `${code} Thy2`, true);
    await clinic.text('l', 'NO', true);
    await clinic.text('l', `${code} Thy2`, true);
    await clinic.text('l', 'YES 1000 1950', true);
    await clinic.text('l', `${code} Thy2`, true);
    await clinic.text('l', 'YES 1000 1950', true);
    expect(await history(code)).toContain('results-locked');
  });

  it('cannot know the year: no text to the laboratory shows it, or an age', async () => {
    await at('read-back');
    const texts = clinic.messages.filter((one) => one.phone === 'l' && one.dir === 'out').map((one) => one.text);
    expect(texts.join('\n')).not.toMatch(/1982|\b4[78]\b ?y/);
    expect(texts.join('\n')).toContain('aged 40 to 49');
  });
});

describe('somebody who writes as the worker', () => {
  it('may raise an alarm and may not end it: three tries of nine thousand, then of nine hundred thousand', async () => {
    await at('watched');
    await clinic.text('w', 'SOS', true);
    await clinic.text('w', '1', true);
    await clinic.play('wait 2m');
    const secret = clinic.found('w', /Well again: WELL (\d{4})$/);
    const over = clinic.found('w', /to hospital: GOING (\d{4})\./);
    const wrong = Array.from({ length: 90 }, (_, one) => String(one + 1000)).filter(
      (one) => one !== secret && one !== over,
    );
    clinic.heard();
    let tries = 0;
    let told = '';
    while (told === '' && tries < wrong.length) {
      await clinic.text('w', `WELL ${wrong[tries]}`, true);
      tries += 1;
      told = clinic.heardBy('c').join();
    }
    expect(tries).toBe(3);
    const longer = clinic.found('w', /Well again: WELL (\d{6})$/);
    for (const text of [`WELL ${secret}`, `GOING ${over}`, secret, over]) await clinic.text('w', text, true);
    expect(
      clinic
        .heard()
        .map((one) => one.text)
        .join(),
    ).not.toContain('over at');
    await clinic.text('w', `WELL ${longer}`);
    expect(clinic.heardBy('w').join()).toContain('over at');
  });

  it('files no result, answers no doctor, adds nobody, and takes no case of another site', async () => {
    const code = await at('read-back');
    const challenge = clinic.found('l', /YES (\d{4})/);
    const before = clinic.snapshot();
    const texts = [`YES ${challenge} 1982`, `${code} Thy2`, `GOT ${code} 2`, `BAD ${code} 1`];
    for (const text of [...texts, 'ADD worker +000555010077 oruma Eve Dropper']) await clinic.text('w', text, true);
    expect(clinic.snapshot()).toBe(before);
    for (const text of [`TAKE ${code}`, `CASE ${code}`, `POST ${code}`, `NEW ${code}`, `DOCTOR ${code} let it go`]) {
      clinic.heard();
      await clinic.text('x', text, true);
      const heard = clinic.heard();
      expect(
        heard.filter((one) => ['w', 'v', 'l'].includes(one.phone)),
        text,
      ).toEqual([]);
      expect(heard.map((one) => one.text).join(), text).not.toMatch(/AK\b/);
    }
    expect(await history(code)).not.toContain('taken-over');
  });
});

describe('somebody who writes as the coordinator', () => {
  it('adds nobody without digits that went to the real phone, and opens no locked results', async () => {
    const code = await at('read-back');
    await clinic.text('l', 'YES 1000 1950', true);
    await clinic.text('l', `${code} Thy2`, true);
    await clinic.text('l', 'YES 1000 1950', true);
    const secret = clinic.found('c', /If it was really them, send (\d+)/);
    expect(secret).toHaveLength(4);
    const before = clinic.snapshot();
    const wrong = Array.from({ length: 90 }, (_, one) => String(one + 1000)).filter((one) => one !== secret);
    for (const one of wrong.slice(0, 30)) await clinic.text('c', one, true);
    await clinic.text('c', secret, true);
    expect(clinic.snapshot()).toBe(before);
    // Thirty wrong ones: as long as digits get, for a month.
    expect(clinic.found('c', /If it was really them, send (\d+)/)).toHaveLength(12);
    for (const role of ['doctor', 'lab', 'coordinator']) {
      await clinic.text('c', `ADD ${role} +000555010078 oruma Eve Dropper`, true);
      expect(clinic.snapshot(), role).toBe(before);
    }
  });
});

describe('two phones that write as one person', () => {
  it('answer one question once; what comes second is asked back before it counts, and all is read back', async () => {
    await at('nothing');
    await clinic.play('w> NEW', 'w> AK 1982 F');
    await clinic.text('w', '60', true);
    // The real phone answers the same question, sent before the next one was handed over.
    await clinic.play('wait 1m', 'w@-2m> 1');
    expect(clinic.heardBy('w').join()).toContain('Your text left before my last question reached you');
    await clinic.play(
      'w> 70',
      'w> 80',
      'w> 0',
      'w> 40',
      'w> 1',
      'w> 5',
      'w> 3',
      'w> R 22x15x14',
      'w> 9',
      'w> 9',
      'w> 9',
    );
    expect(clinic.heardBy('w').join()).toContain('Nothing at: C1 breathing');
  });

  it('an alarm that one raised is not ended by the other without its digits', async () => {
    await at('watched');
    await clinic.text('w', 'SOS', true);
    for (const text of ['NO', 'STOP ALARM', 'ok again', 'well again', '0', 'CANCEL', 'B', '9']) {
      await clinic.text('w', text, true);
    }
    expect(
      clinic
        .heard()
        .map((one) => one.text)
        .join('\n'),
    ).not.toContain('noted, it is over');
  });
});

describe('an event that was seen before', () => {
  it('changes nothing and is answered by nothing, the same day and long after', async () => {
    await at('read-back');
    const challenge = clinic.found('l', /YES (\d{4})/);
    await clinic.play(`l> YES ${challenge} 1982`, 'wait 1m');
    for (const pause of ['1m', '1d', '9d']) {
      await clinic.play(`wait ${pause}`);
      const before = clinic.snapshot();
      clinic.heard();
      await clinic.play('again l');
      expect(
        clinic.heard().filter((one) => one.phone === 'l'),
        pause,
      ).toEqual([]);
      expect(clinic.snapshot(), pause).toBe(before);
    }
  });

  it('its text sent anew under another id files nothing a second time', async () => {
    const code = await at('read-back');
    const text = `YES ${clinic.found('l', /YES (\d{4})/)} 1982`;
    await clinic.text('l', text);
    const filed = (await history(code)).filter((one) => one === 'result-filed').length;
    await clinic.text('l', text, true);
    await clinic.text('l', text, true);
    expect((await history(code)).filter((one) => one === 'result-filed').length).toBe(filed);
  });
});
