/** Who has a phone on the bench: invented people at the first clinics of the programme, whose addresses cannot be dialled. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Settings } from '../config.ts';
import { baseLocale } from '../content/texts.ts';
import type { Content } from '../conversation/content.ts';
import type { Programme } from '../conversation/programme.ts';
import type { LineStore } from '../store/store.ts';
import { benchLanguage } from './bench-language.ts';
import { Refused } from './open-line.ts';
import { readRoster } from './roster-file.ts';

/** The demo roster as a file: at the first clinic all it takes to play a case, a worker at the second, their laboratories. */
export function demoRosterOf(
  { sites, laboratories }: Pick<Programme, 'sites' | 'laboratories'>,
  locale: string = baseLocale,
): string {
  const [first, second = first] = sites;
  if (!first || !second) return '';
  const labs = [first.labId, ...(second.labId === first.labId ? [] : [second.labId])].filter((id) =>
    laboratories.some((one) => one.id === id),
  );
  const people = [
    ['Ada Lumo', 'worker', 'worker', first.id],
    ['Beno Sarr', 'worker', 'worker2', first.id],
    ...(second === first ? [] : [['Nia Oduya', 'worker', 'worker3', second.id]]),
    ['Dr Tano', 'doctor', 'doctor', first.id],
    ['Dr Imre', 'doctor', 'doctor2', first.id],
    ...labs.map((id, place) => (place === 0 ? ['Lio Marek', 'lab', 'lab', id] : ['Sia Tor', 'lab', 'lab2', id])),
    ['Sela Rune', 'coordinator', 'coordinator', first.id],
  ];
  const rows = people.map(([name, role, phone, place]) => `${name},${role},bench,bench:${phone},${place},${locale}\n`);
  return `name,roles,channel,address,site,locale\n${rows.join('')}`;
}

/**
 * Puts the demo roster of this programme into its database, from a file that may be changed by hand before. On the first
 * start only: whoever leaves the line later is not called back by a restart. Refuses a database that has people who could be
 * dialled. True: this was the first start.
 */
export async function putDemoRoster(store: LineStore, content: Content, settings: Settings): Promise<boolean> {
  const { programme } = content;
  // Of several programmes of one's own each has its people.
  const of = settings.NECKLINE_PROGRAMME === undefined ? '' : `-${programme.id}`;
  const mark = `demo-roster${of}`;
  if ((await store.mark(mark)) !== null) return false;
  const known = await store.roster(programme.id);
  if (known.some(({ addresses }) => addresses.some(({ channel }) => channel !== 'bench'))) {
    throw new Refused(
      'people with real addresses are on the roster of this database: the phone bench does not run on it; NECKLINE_DATA names another folder',
    );
  }
  const folder = join(settings.NECKLINE_DATA, 'demo');
  const file = join(folder, `roster${of}.csv`);
  mkdirSync(folder, { recursive: true });
  if (!existsSync(file)) writeFileSync(file, demoRosterOf(programme, benchLanguage(settings, content)));
  const { people, faults } = readRoster(readFileSync(file, 'utf8'), content, known, true);
  if (faults.length > 0) {
    throw new Refused(faults.map(({ line, expected }) => `${file}:${line}: expected ${expected}`).join('\n'));
  }
  const fresh = people.filter((one) => !known.some((old) => old.id === one.id));
  if (fresh.length > 0) await store.putPeople(fresh);
  await store.setMark(mark, 'written');
  return true;
}
