import { afterEach, describe, expect, it } from 'vitest';
import { isName, onOneLine, quotedWords } from '../../src/text/one-line.ts';
import { bringTo, Clinic, type Place } from '../support/clinic.ts';

let clinic: Clinic | null = null;
afterEach(async () => {
  await clinic?.close();
  clinic = null;
});

async function at(place: Place): Promise<string> {
  clinic = new Clinic();
  const code = await bringTo(clinic, place);
  clinic.heard();
  return code;
}

/** What a sender would write to make a reader take it for the line's own words. */
const lures = [
  'hello\nQ47 RESULT AK F: Thy5 malignant. 47 1 refer surgery now',
  'hello" - 10 1 call me\r\nFILED 4829 1354 Thy2. Doctor and clinic get it',
  'x\u2028AK: RIGHT lump, 22 mm: needle ADVISED',
  'x\u2029STOPPED: no more texts from this line',
  'x\u000bAK 4829 1354 CLOSED by the doctor\u000cQ12 DECIDE',
  'a\u202eesrever\u202c b\u0000c\u0007d\u001b[2J',
  ') OK. (AK: released, go on',
];

const oneLine = (texts: readonly string[]): void => {
  for (const text of texts) {
    // A further screen of the same question begins with its tag, which no sender knows.
    // The offer of words for the patient is a screen of our own, whole, before the question that it stands by.
    const [first = '', ...others] = text.replace(/^AK: SAY gives words for the patient\.\n/, '').split('\n');
    const apart = others.filter((line) => !/^Q\d/.test(first) || !line.startsWith(`${first.slice(0, 3)} AK: `));
    expect(
      [first, ...apart].filter((line) => /^(Q\d\d|FILED|AK[: ]|STOPPED|CLOSED)/.test(line)).length,
      text,
    ).toBeLessThan(2);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
    expect(text).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f\u2028\u2029\u202a-\u202e]/);
  }
};

describe('free words of one person in the text of another', () => {
  it.each(lures)('a question to the doctor: %j', async (lure) => {
    await at('ready');
    await clinic!.text('w', `DOCTOR ${lure}`);
    const texts = clinic!.heardBy('d').filter((one) => one.includes('ASKS'));
    expect(texts).toHaveLength(1);
    // A screen of our own may stand behind it in the same text, with the question's tag first.
    const asks = texts[0]!.split(/\n(?=Q\d\d AK)/)[0]!;
    expect(asks).not.toContain('\n');
    // Between our own quotation marks there is no other one: nothing ends the quotation early.
    expect(texts[0]!.match(/"/g)).toHaveLength(2);
    expect(asks).toMatch(/^Q(\d\d) ASKS .*: ".*"\./);
  });

  it.each(lures)('a question asked for after DOCTOR alone: %j', async (lure) => {
    await at('ready');
    await clinic!.play('w> DOCTOR');
    clinic!.heard();
    await clinic!.text('w', lure);
    const texts = clinic!.heardBy('d').filter((one) => one.includes('ASKS'));
    expect(texts).toHaveLength(1);
    expect(texts[0]!.split(/\n(?=Q\d\d AK)/)[0]).not.toContain('\n');
    expect(texts[0]!.match(/"/g)).toHaveLength(2);
  });

  it.each(lures)('a note to a case names its sender, and reaches doctors alone: %j', async (lure) => {
    const code = await at('posted');
    await clinic!.text('l', `CASE ${code} note ${lure}`);
    const heard = clinic!.heard();
    oneLine(heard.map((one) => one.text));
    const note = heard.filter((one) => one.phone === 'd').map((one) => one.text);
    expect(note.join()).toMatch(/^AK \d{4} \d{4} from l: "[^"]*"$/);
    expect(heard.filter((one) => !['l', 'd', 'e'].includes(one.phone))).toEqual([]);
  });

  it.each(lures)('the words of a doctor to the clinic: %j', async (lure) => {
    // No question is open there: none is repeated behind the answer, on the same screen.
    await at('watched');
    await clinic!.play('w> DOCTOR may I go on');
    const tag = clinic!.found('d', /Q(\d\d) ASKS/);
    clinic!.heard();
    await clinic!.text('d', `${tag} ${lure}`);
    const heard = clinic!.heard();
    oneLine(heard.map((one) => one.text));
    expect(heard.find((one) => one.phone === 'w')?.text).toMatch(/^AK: d answers: /);
  });

  it.each(lures)('the words of a result: %j', async (lure) => {
    const code = await at('read-back');
    await clinic!.text('l', `${code} Thy4 ${lure.replace(/\d+/g, '')}`);
    const back = clinic!.heardBy('l').filter((one) => one.includes('RESULT: '));
    oneLine(back);
    for (const text of back) expect(text.match(/\(.*?\)/g)?.length).toBe(1);
    const secret = clinic!.found('l', /YES (\d{4})/);
    await clinic!.text('l', `YES ${secret} 1982`);
    const heard = clinic!.heard();
    oneLine(heard.map((one) => one.text));
    const asked = heard.find((one) => one.phone === 'd' && one.text.includes('TODAY'))?.text ?? '';
    expect(asked).toMatch(/Thy4 suspicious \([^()]*\)\./);
  });

  it('as much as one text may carry reaches the doctor, the rest stays in the history', async () => {
    const code = await at('posted');
    const words = `${'word '.repeat(200)}end`;
    await clinic!.text('w', `CASE ${code} ${words}`);
    const note = clinic!.heard().find((one) => one.phone === 'd')!;
    expect(note.text).toMatch(/\.\.\."$/);
    expect(note.segments).toBeLessThanOrEqual(3);
    const store = await clinic!.store();
    const of = await store.findCase('tamboro', code);
    const kept = (await store.history(of!.id)).map((one) => one.event).find((one) => one.type === 'noted');
    expect(kept).toEqual({ type: 'noted', words });
  });

  it.each([
    'Nia\nBok',
    'Q47 1 refer',
    'Nia: FILED 4829 1354',
    'Nia "Bok"',
    '\u202eNia',
    'x'.repeat(61),
    '12345',
    'Worker 7',
    "O''Lumo",
  ])('the name %j is none for the roster', async (name) => {
    expect(isName(name)).toBe(false);
    if (name.includes('\n') || name.includes('\u202e')) return;
    await at('nothing');
    await clinic!.text('c', `ADD worker +000555010042 oruma ${name}`);
    expect(clinic!.heardBy('c').join()).not.toMatch(/Right: send|(?<!\w)\d\d$/);
  });

  it.each(['Nia Bok', "Ada O'Lumo", 'Rune, Sela', 'Dr. Tano (Velin)', 'Öz Çelik', 'ሰላም'])(
    'the name %s is one',
    (name) => {
      expect(isName(name)).toBe(true);
    },
  );
});

describe('the label block', () => {
  it('holds nothing that a worker typed: each line is made of the code, numbers and words of our own', async () => {
    await at('watched');
    const block = clinic!.messages.find((one) => one.phone === 'w' && /\nNAME _+/.test(one.text))!.text;
    const lines = block.slice(block.search(/\d{4} \d{4}\nNAME/)).split('\n');
    const forms = [
      /^\d{4} \d{4}$/,
      /^NAME _+$/,
      /^BORN _+\/_+\/\d{4}$/,
      /^TAKEN \d{1,2} [A-Z]{3} \d{4}$/,
      /^FNA [A-Z ]+$/,
    ];
    const more = [/^[\dx.]+ MM$/, /^SLIDES [\d, -]+ OF \d+ [A-Z ]+$/, /^ORUMA CLINIC$/];
    for (const [index, form] of [...forms, ...more].entries()) expect(lines[index]).toMatch(form);
    expect(lines).toHaveLength(8);
  });

  it.each(['AK\nNAME Eve 1982 F', 'Q47 1982 F', '{tag} 1982 F', 'AK"; 1982 F'])(
    'who the patient is, %j, is letters alone',
    async (text) => {
      await at('nothing');
      await clinic!.play('w> NEW');
      clinic!.heard();
      await clinic!.text('w', text);
      const [reply = ''] = clinic!.heardBy('w');
      expect(reply).not.toMatch(/^AK: danger|\nNAME/);
    },
  );
});

describe('words on one line', () => {
  it.each([
    ['a\nb\r\nc', 'a b c'],
    ['  a\u0000 \u202eb ', 'a b'],
    ['क्\u200dष', 'क्\u200dष'],
    ['\ud83d', ''],
  ])('%j', (text, shown) => {
    expect(onOneLine(text)).toBe(shown);
  });

  it('are cut with three dots and never end a quotation', () => {
    expect(quotedWords('say "yes" now', 100)).toBe("say 'yes' now");
    expect(quotedWords('one two three', 7)).toBe('one two...');
    expect(quotedWords('👍👍👍', 2)).toBe('👍👍...');
  });
});
