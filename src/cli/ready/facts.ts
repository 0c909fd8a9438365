/** Gathers what the list of missing things is made from: settings, programme, roster, signatures, the last backup. */
import { realParts, type Settings } from '../../config.ts';
import { type Content, shippedProgramme } from '../../content/load.ts';
import { durationOf } from '../../conversation/programme.ts';
import type { Person } from '../../conversation/world.ts';
import { lastBackup } from '../../line/last-backup.ts';
import type { Signature } from '../../store/signatures.ts';
import type { LineStore } from '../../store/store.ts';
import { isInvented } from '../said-place.ts';
import type { Facts } from './missing.ts';
import { unsignedOf } from './to-sign.ts';

/** What a database says. */
export interface Stored {
  readonly roster: readonly Person[];
  readonly signatures: readonly Signature[];
  /** When the last backup was made, ms; null = never. */
  readonly backupAt: number | null;
}

/** What a database says that is not there yet. */
export const nothingStored: Stored = { roster: [], signatures: [], backupAt: null };

/** Asks the database. */
export async function storedIn(store: LineStore, { programme }: Pick<Content, 'programme'>): Promise<Stored> {
  return {
    roster: await store.roster(programme.id),
    signatures: await store.signatures(programme.id),
    backupAt: (await lastBackup(store)).madeAt,
  };
}

/** The facts as they are at `now`. */
export function factsOf(settings: Settings, content: Content, stored: Stored, now: number): Facts {
  return {
    now,
    programme: content.programme,
    invented: shippedProgramme(),
    ownProgramme: !isInvented(settings),
    roster: stored.roster,
    links: realParts(settings).filter((one) => one !== 'PostgreSQL'),
    backup: {
      own: settings.DATABASE_URL === undefined,
      key: settings.NECKLINE_BACKUP_KEY !== undefined,
      lastAt: stored.backupAt,
      lateMs: durationOf(content.programme, 'backup-late'),
    },
    alertsElsewhere: settings.NECKLINE_ALERT_URL !== undefined,
    unsigned: unsignedOf(content, stored),
    faults: [],
  };
}
