import { afterEach, describe, expect, it } from 'vitest';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';
import { shipped as byHand } from '../support/shipped.ts';

const inChat = { ...byHand, programme: { ...byHand.programme, privacy: 'in-chat' as const } };
const inChats = person('w', 'worker', ['telegram', 'sms']);
const onSms = person('w', 'worker', ['sms']);
/** As tired people write it. */
const typed = 'tala  Fenn 12 mar 1982';

let line: LinkedLine;
afterEach(() => line.close());

const open = async (content: typeof byHand, worker: typeof inChats): Promise<string> => {
  const lab = { ...person('l', 'lab', ['telegram']), siteId: 'velin' };
  line = await LinkedLine.open([worker, person('d', 'doctor', ['telegram']), lab], { content });
  return line.fixed(worker);
};

describe('the name on the label', () => {
  it('is asked in a chat where the programme wants it, and stands on the label', async () => {
    await open(inChat, inChats);
    expect(line.telegram.to('w').at(-1)).toMatch(/^AK: for the label send the full name and birth date/);
    await line.says(inChats, typed);
    expect(line.heardBy('w')).toMatch(/NAME tala Fenn\nBORN 12 MAR 1982\n/);
    expect(line.telegram.to('w').at(-1)).toMatch(
      /What is your name\? When were you born\? Do patient, slides and jar all say the same/,
    );
    expect(line.sms.to('w')).toEqual([]);
  });

  it.each([
    ['nothing of a date', 'Tala Fenn', /Like this: Tala Fenn 12 MAR 1982/],
    ['a day the calendar lacks', 'Tala Fenn 30 FEB 1982', /Like this: Tala Fenn 12 MAR 1982/],
    ['a birth date to come', 'Tala Fenn 12 MAR 2031', /Like this: Tala Fenn 12 MAR 1982/],
    ['no name', '12 MAR 1982', /Like this: Tala Fenn 12 MAR 1982/],
    ['another birth year than at the start', 'Tala Fenn 12 MAR 1983', /not the birth year.*wrong patient/s],
  ])('%s is asked again', async (_what, said, answer) => {
    await open(inChat, inChats);
    const before = line.telegram.to('w').length;
    await line.says(inChats, said);
    expect(line.telegram.to('w').slice(before).join('\n')).toMatch(answer);
    await line.says(inChats, typed);
    expect(line.heardBy('w')).toMatch(/NAME tala Fenn/);
  });

  it('0 leaves it to the hand', async () => {
    await open(inChat, inChats);
    await line.says(inChats, '0');
    expect(line.heardBy('w')).toMatch(/NAME _+\nBORN ___\/___\/1982/);
  });

  it.each([
    ['on SMS', inChat, onSms],
    ['where the programme did not ask for it', byHand, inChats],
  ])('is never asked %s', async (_where, content, worker) => {
    await open(content, worker);
    expect(line.heardBy('w')).toMatch(/NAME _+\nBORN ___\/___\/1982/);
  });

  it('is never sent by SMS, also when the chat refuses the label or the worker goes on by SMS', async () => {
    await open(inChat, inChats);
    line.telegram.answer = { kind: 'refused', why: 'blocked' };
    await line.says(inChats, typed);
    expect(line.telegram.to('w').join('\n')).toMatch(/tala Fenn/);
    await line.hears(inChats.addresses[1]!, 'B', '2', '3', '?', 'CASE', 'MORE');
    expect(line.sms.to('w').length).toBeGreaterThan(3);
    expect(line.sms.to('w').join('\n')).not.toMatch(/Fenn/);
  });

  it.each([
    ['longer than a line of the label', 'Annamaria Konstantinova Petrovskaya 12 MAR 1982', /Petrovskaya/],
    ['one word longer than a line', 'Konstantinopolitanskaiavanovskaya Fenn 12 MAR 1982', /Konstantinopol/],
    ['with a curly quote and a long dash', 'Anne–Marie O’Tarrow 12 MAR 1982', /Tarrow/],
  ])('%s is not sent by SMS either', async (_what, said, sign) => {
    await open(inChat, inChats);
    line.telegram.answer = { kind: 'refused', why: 'blocked' };
    await line.says(inChats, said);
    expect(line.telegram.to('w').join('\n')).toMatch(sign);
    expect(line.sms.to('w').join('\n')).not.toMatch(sign);
  });

  it('is told to nobody else: not to the doctor, not to the laboratory', async () => {
    const code = await open(inChat, inChats);
    await line.says(inChats, typed, '1', '7', 'DOCTOR is the neck all right');
    await line.later(21);
    await line.says(inChats, '1');
    await line.later(15);
    await line.says(inChats, '3', '5', `POST ${code}`);
    expect(line.heardBy('l')).toMatch(/FROM ORUMA CLINIC/);
    expect(line.heardBy('d')).toMatch(/is the neck all right/);
    expect(line.heardBy('l') + line.heardBy('d')).not.toMatch(/Fenn/);
  });
});
