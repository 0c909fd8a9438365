/** The settings of the answers, put into a file of settings: what somebody wrote there besides stays. */
import type { Answers } from './answers.ts';

/** Files that the settings name, as whole paths. */
export interface SettingPlaces {
  readonly programme: string;
  readonly smsSecret: string;
  readonly smsPassword: string;
  readonly telegramToken: string;
  readonly backupKey: string;
}

/** A setting of the answers with what a reader should know; null = it is emptied where it stands, and not added. */
interface Setting {
  readonly name: string;
  readonly value: string | null;
  readonly why: string;
}

const head = `# Settings of the line, written by neckline setup. Comments stand on lines of their own: behind a value they would be
# part of it. What is added by hand stays when setup runs again. All settings: deploy/neckline.env.example
`;

/** The settings with these answers, in the lines of `before` where it has them. */
export function settingsText(answers: Answers, places: SettingPlaces, before: string | null): string {
  const lines = (before ?? head).replace(/\n+$/, '').split('\n');
  for (const { name, value, why } of settingsOf(answers, places)) {
    // Given by hand in the other way: that one is kept.
    const other = name.endsWith('_FILE') ? name.slice(0, -'_FILE'.length) : null;
    if (other !== null && lines.some((line) => isFilled(line, other))) continue;
    const at = lines.findIndex((line) => line.startsWith(`${name}=`));
    if (at >= 0) lines[at] = `${name}=${quoted(value ?? '')}`;
    else if (value !== null) lines.push('', `# ${why}`, `${name}=${quoted(value)}`);
  }
  return `${lines.join('\n')}\n`;
}

function settingsOf(answers: Answers, places: SettingPlaces): readonly Setting[] {
  const { sms, telegram, data, keyFile } = answers;
  const set = (name: string, value: string | null | undefined, why: string): Setting => ({
    name,
    value: value ?? null,
    why,
  });
  return [
    set('NECKLINE_DATA', data, 'Folder of the database.'),
    set('NECKLINE_PROGRAMME', places.programme, "The programme's own choices."),
    set('NECKLINE_BENCH_PORT', null, ''),
    set('NECKLINE_KEY_FILE', keyFile, 'Key of the database, made with it. Keep a copy where no copy of the data is.'),
    set('NECKLINE_BACKUP_KEY', places.backupKey, 'Public key that backups are sealed to.'),
    set('NECKLINE_SMS_GATEWAY', sms?.gateway, 'The SMS gateway.'),
    set('NECKLINE_SMS_SEND_URL', sms?.sendUrl, 'Where texts are handed to it.'),
    set('NECKLINE_SMS_USER', sms?.user, 'Our account there.'),
    set('NECKLINE_SMS_PASSWORD_FILE', sms && places.smsPassword, 'The password of that account.'),
    set('NECKLINE_SMS_NUMBER', sms?.number, 'What people write to.'),
    set('NECKLINE_SMS_SECRET_FILE', sms && places.smsSecret, 'The secret that the gateway must show.'),
    set('NECKLINE_SMS_PREFIXES', sms?.prefixes.join(','), 'Beginnings of the numbers that may be written to.'),
    set('NECKLINE_SMS_COUNTRY', sms?.country, 'How national numbers come: code of the country / digits.'),
    set('NECKLINE_SMS_MAPPING', sms?.mapping, 'Names of the fields of this gateway.'),
    set('NECKLINE_TELEGRAM_TOKEN_FILE', telegram && places.telegramToken, "The bot's token."),
    set('NECKLINE_TELEGRAM_WEBHOOK_URL', telegram?.webhookUrl, 'Where Telegram calls; without it the line asks.'),
  ];
}

function isFilled(line: string, name: string): boolean {
  return line.startsWith(`${name}=`) && line.slice(name.length + 1).trim() !== '';
}

/** As a service manager reads it back: plain where it may be, else in double quotes. */
function quoted(value: string): string {
  return /^[\w./:+,@%=?&~-]*$/.test(value) ? value : `"${value.replace(/["\\$`]/g, '\\$&')}"`;
}
