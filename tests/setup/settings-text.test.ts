import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSettingsFile } from '../../src/settings-file.ts';
import { placesOf } from '../../src/setup/kept-files.ts';
import { settingsText } from '../../src/setup/settings-text.ts';
import { exampleAnswers } from './answers-fixture.ts';

const answers = exampleAnswers();
const places = placesOf(answers, '/etc/neckline');
const valuesOf = (text: string) => {
  const { values, faults } = readSettingsFile(text);
  expect(faults).toEqual([]);
  return values;
};

describe('the settings made from answers', () => {
  it('name the files of the folder by their whole paths, and hold no secret', () => {
    const values = valuesOf(settingsText(answers, places, null));
    expect(values).toMatchObject({
      NECKLINE_PROGRAMME: '/etc/neckline/programme.yaml',
      NECKLINE_SMS_SECRET_FILE: '/etc/neckline/sms-secret',
      NECKLINE_SMS_PASSWORD_FILE: '/etc/neckline/sms-password',
      NECKLINE_TELEGRAM_TOKEN_FILE: '/etc/neckline/telegram-token',
      NECKLINE_SMS_PREFIXES: '+000',
    });
    expect(Object.keys(values).filter((name) => /_(SECRET|PASSWORD|TOKEN)$/.test(name))).toEqual([]);
  });

  it('are read back as they were said, whatever signs a value has', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[\x20-\x7e]{1,20}$/), (said) => {
        const user = said.trim();
        fc.pre(user !== '');
        const text = settingsText({ ...answers, sms: { ...answers.sms!, user } }, places, null);
        expect(valuesOf(text).NECKLINE_SMS_USER).toBe(user);
      }),
    );
  });

  it('are put into the lines that are there; what was added by hand stays', () => {
    const before =
      '# mine\nNECKLINE_LOG=debug\nNECKLINE_SMS_NUMBER=\nNECKLINE_BENCH_PORT=8085\nNECKLINE_SMS_SECRET=a,b\n';
    const text = settingsText(answers, places, before);
    expect(text.split('\n').slice(0, 5)).toEqual([
      ...['# mine', 'NECKLINE_LOG=debug', 'NECKLINE_SMS_NUMBER=1234', 'NECKLINE_BENCH_PORT='],
      'NECKLINE_SMS_SECRET=a,b',
    ]);
    // The secret that somebody wrote there is kept: given in two ways it would be refused.
    expect(valuesOf(text).NECKLINE_SMS_SECRET_FILE).toBeUndefined();
    expect(settingsText(answers, places, text)).toBe(text);
  });

  it('of a link that is given up are emptied', () => {
    const { sms: _, ...telegramOnly } = answers;
    const values = valuesOf(settingsText(telegramOnly, places, settingsText(answers, places, null)));
    expect(Object.entries(values).filter(([name, value]) => name.startsWith('NECKLINE_SMS') && value !== '')).toEqual(
      [],
    );
  });
});
