/** Files of a programme's folder, and the secrets among them. */
import type { Answers } from './answers.ts';
import type { SettingPlaces } from './settings-text.ts';

/** Names in the folder. */
export const folderFiles = {
  programme: 'programme.yaml',
  roster: 'roster.csv',
  settings: 'neckline.env',
  smsSecret: 'sms-secret',
  smsPassword: 'sms-password',
  telegramToken: 'telegram-token',
  backupKey: 'backup.public',
  /** What was said in the interview: for `--from`, and as the answers that the next one offers. */
  answers: 'setup.yaml',
  draft: 'setup.draft.json',
} as const;

/** Whole paths of what the settings name; `folder` from / on. */
export function placesOf(answers: Answers, folder: string): SettingPlaces {
  const at = (name: string): string => `${folder.replace(/\/+$/, '')}/${name}`;
  return {
    programme: at(folderFiles.programme),
    smsSecret: at(folderFiles.smsSecret),
    smsPassword: answers.sms?.passwordFile ?? at(folderFiles.smsPassword),
    telegramToken: answers.telegram?.tokenFile ?? at(folderFiles.telegramToken),
    backupKey: answers.backupKey ?? at(folderFiles.backupKey),
  };
}

/**
 * Secrets that setup makes where there are none: what the gateway must show, and the password of an account that is ours to
 * choose. The password of somebody else's gateway and a bot's token are given by others.
 */
export function ownSecrets(answers: Answers): readonly ('smsSecret' | 'smsPassword')[] {
  if (!answers.sms) return [];
  const isOurs = answers.sms.gateway === 'kannel' && answers.sms.passwordFile === undefined;
  return isOurs ? ['smsSecret', 'smsPassword'] : ['smsSecret'];
}
