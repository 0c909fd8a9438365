/** Where in the answers a fault of a written file comes from: people mend the answers, not what was made of them. */
import type { Path } from '../content/yaml-source.ts';
import type { Answers } from './answers.ts';

const own: Readonly<Record<string, readonly string[]>> = {
  NECKLINE_DATA: ['data'],
  NECKLINE_KEY_FILE: ['keyFile'],
  NECKLINE_BACKUP_KEY: ['backupKey'],
  NECKLINE_SMS_GATEWAY: ['sms', 'gateway'],
  NECKLINE_SMS_SEND_URL: ['sms', 'sendUrl'],
  NECKLINE_SMS_USER: ['sms', 'user'],
  NECKLINE_SMS_PASSWORD: ['sms', 'passwordFile'],
  NECKLINE_SMS_NUMBER: ['sms', 'number'],
  NECKLINE_SMS_PREFIXES: ['sms', 'prefixes'],
  NECKLINE_SMS_COUNTRY: ['sms', 'country'],
  NECKLINE_SMS_MAPPING: ['sms', 'mapping'],
  NECKLINE_TELEGRAM_TOKEN: ['telegram', 'tokenFile'],
  NECKLINE_TELEGRAM_WEBHOOK_URL: ['telegram', 'webhookUrl'],
};

/** The answers behind a setting; null = it is none of theirs. */
export function placeOfSetting(name: string): Path | null {
  return own[name.replace(/_FILE$/, '')] ?? null;
}

/** The answers behind a path of the programme; null = it is a value that the answers do not have. */
export function placeInAnswers(answers: Answers, path: string): Path | null {
  const [part = '', id = '', key = ''] = path.split('.');
  const placeOf = (kind: 'clinics' | 'laboratories', of: string): Path => {
    const index = answers[kind].findIndex((one) => one.id === id);
    return index < 0 ? [kind] : [kind, index, ...(of === '' ? [] : [of])];
  };
  // A clinic without a zone of its own has the programme's: it is one fault, in one place.
  if (part === 'sites' && key === 'zone' && answers.clinics.find((one) => one.id === id)?.zone === undefined) {
    return ['programme', 'zone'];
  }
  if (part === 'sites') return placeOf('clinics', key === 'lab' ? 'laboratory' : key);
  if (part === 'laboratories') return placeOf('laboratories', key);
  if (part === 'price') return id === '' ? ['price'] : ['price', id];
  return part in answers.programme ? ['programme', part] : null;
}
