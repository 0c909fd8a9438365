/** What has to be there around the line: a link, backups, alerts, and people who agreed to what it says. */
import type { Facts, Missing } from './missing.ts';

const hourMs = 3_600_000;

/** What of the link, backups, alerts and signatures is missing; of what has a fault nobody knows. */
export function missingAround(facts: Facts): readonly Missing[] {
  const { now, links, backup, alertsElsewhere, roster, unsigned } = facts;
  const isFaulty = (settings: RegExp): boolean => facts.faults.some((one) => settings.test(one));
  const found: Missing[] = [];
  if (links.length === 0 && !isFaulty(/NECKLINE_(?:SMS|TELEGRAM)_/)) {
    found.push({
      id: 'link',
      what: 'No link is configured: nobody can text the line.',
      mend: 'Set up an SMS gateway (deploy/sms.md) or Telegram (deploy/telegram.md).',
      holdsUp: 'every-start',
    });
  }
  if (backup.own && !backup.key && !isFaulty(/NECKLINE_BACKUP_KEY/)) {
    found.push({
      id: 'backup-key',
      what: 'No key for backups is named, so none can be made.',
      mend: 'Run neckline keys backup-pair, and name the public key in NECKLINE_BACKUP_KEY (deploy/backup.md).',
      holdsUp: 'patients',
    });
  }
  // Made in the future: the clock was set back since, and nobody knows how old it is.
  const age = backup.lastAt === null ? null : Math.abs(now - backup.lastAt);
  if (age === null || age > backup.lateMs) {
    const ago = age === null ? 'No backup was made yet' : `The last backup is ${hours(age)} old`;
    found.push({
      id: 'backup',
      what: `${ago}: a broken disk would take every patient along.`,
      mend: backup.own
        ? 'Run neckline backup, and see why its timer does not (deploy/backup.md).'
        : 'Copy the database with the tools of its server, then run neckline backup --noted (deploy/backup.md).',
      holdsUp: 'patients',
    });
  }
  const coordinators = roster.filter((one) => one.roles.includes('coordinator') && one.state === 'joined');
  const second = coordinators.some((one) => new Set(one.addresses.map(({ channel }) => channel)).size > 1);
  if (!alertsElsewhere && !second && !isFaulty(/NECKLINE_ALERT_/)) {
    found.push({
      id: 'alerts',
      what: 'When the link is down, nobody hears of it: alerts have no second way.',
      mend: 'Set NECKLINE_ALERT_URL, or give a coordinator an address on a second link.',
      holdsUp: 'nothing',
    });
  }
  if (unsigned.conventions > 0) {
    found.push({
      id: 'unsigned',
      what: `No clinician of the programme has signed ${unsigned.conventions} of the values that nobody published.`,
      mend: 'Let a clinician read and sign them: neckline sign.',
      holdsUp: 'patients',
    });
  }
  if (unsigned.languages.length > 0) {
    found.push({
      id: 'languages',
      what: `Nobody has read all texts of: ${unsigned.languages.join(', ')}.`,
      mend: 'Let somebody who speaks it and works in a clinic read them and sign: neckline sign.',
      holdsUp: 'patients',
    });
  }
  return found;
}

function hours(ms: number): string {
  const whole = Math.floor(ms / hourMs);
  return whole < 48 ? `${whole} hours` : `${Math.floor(whole / 24)} days`;
}
