/** What is left to do once the files are written, in the order in which it is done. */
import { isInvited } from './address.ts';
import type { Answers } from './answers.ts';
import { placeOf } from './roster-text.ts';

/** What of the settings is on the disk already. */
export interface OnDisk {
  readonly token: boolean;
  readonly password: boolean;
  readonly backupKey: boolean;
  /** The folder is shut to all but root. */
  readonly shut: boolean;
}

export interface StepPlaces {
  readonly folder: string;
  readonly settings: string;
  readonly roster: string;
  readonly smsSecret: string;
  readonly smsPassword: string;
  readonly telegramToken: string;
  readonly backupKey: string;
}

/** One step: what it is for, and the lines to type or to write. */
export interface Step {
  /** Whose user: the machine's keeper, or the line's own, to whom database and key belong. */
  readonly by: 'root' | 'line';
  readonly what: string;
  readonly lines: readonly string[];
}

/** The steps, never with a secret. */
export function nextSteps(answers: Answers, places: StepPlaces, disk: OnDisk): readonly Step[] {
  const env = `--env ${places.settings}`;
  const steps: Step[] = [];
  const root = (what: string, ...lines: string[]): unknown => steps.push({ by: 'root', what, lines });
  const line = (what: string, ...lines: string[]): unknown => steps.push({ by: 'line', what, lines });
  const { sms, telegram } = answers;
  const { folder } = places;
  if (disk.shut) {
    const open = `chgrp -R neckline ${folder}; chmod 750 ${folder}; chmod 640 ${folder}/*`;
    root("Let the line's own user read the folder (deploy/install.sh makes user and folder so):", open);
  }
  if (sms && !disk.password) {
    root("Write the password of the gateway's account into a file that only the line may read:", places.smsPassword);
  }
  if (sms?.gateway === 'kannel') {
    const inFile = [
      `change-sendsms: what stands in ${places.smsPassword}`,
      `change-secret: what stands in ${places.smsSecret}`,
    ];
    root('Copy deploy/kannel.conf for the gateway and put in place of', ...inFile);
  } else if (sms) root('Give the gateway the secret that it must show with each text. It stands in', places.smsSecret);
  if (telegram && !disk.token) {
    root("Write the bot's token into a file that only the line may read (deploy/telegram.md):", places.telegramToken);
  }
  if (!disk.backupKey) {
    const pair = places.backupKey.replace(/\.public$/, '');
    root('Make the pair that backups are sealed to:', `neckline keys backup-pair ${pair}`);
    root('Take its private half off this machine, to where no backup is:', `${pair}.private`);
  }
  line('Put the people on the line:', `neckline roster import ${places.roster} ${env}`);
  for (const one of invitations(answers)) line('Hand a link to whoever joins on Telegram by one:', `${one} ${env}`);
  line('See what is still missing before a patient may be served, and mend it:', `neckline ready ${env}`);
  line('Start the line (where it is a service, as root: systemctl enable --now neckline):', `neckline start ${env}`);
  return merged(steps);
}

function invitations(answers: Answers): readonly string[] {
  return answers.people.flatMap((person) => {
    if (!person.addresses.some(isInvited)) return [];
    const isOnRoster = person.addresses.some((one) => !isInvited(one));
    const added = `neckline invite --add ${person.roles.join('+')} ${placeOf(answers, person)} ${person.name}`;
    return [isOnRoster ? `neckline invite "${person.name}"` : added];
  });
}

/** Steps of one kind behind each other are one. */
function merged(steps: readonly Step[]): readonly Step[] {
  const all: Step[] = [];
  for (const step of steps) {
    const last = all.at(-1);
    if (last?.what === step.what) all[all.length - 1] = { ...last, lines: [...last.lines, ...step.lines] };
    else all.push(step);
  }
  return all;
}
