/** Clinics and people of the bench: two health workers a clinic, invented numbers. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse, stringify } from 'yaml';
import { type Content, loadContent, packageRoot } from '../../src/content/load.ts';
import type { Person } from '../../src/conversation/world.ts';

export const workersPerClinic = 2;
const siteOf = (worker: number) => `clinic${Math.floor(worker / workersPerClinic)}`;

/** Writes the package's programme with names of its own and clinics for so many workers into `folder`; gives its file. */
export function writeProgramme(folder: string, workers: number): string {
  const programme = parse(readFileSync(join(packageRoot, 'flows/programme.yaml'), 'utf8'));
  const like = programme.sites.oruma;
  for (let worker = 0; worker < workers; worker += workersPerClinic) {
    programme.sites[siteOf(worker)] = { ...like, name: `CLINIC ${worker}` };
  }
  programme.voiceNumber = '+000555019999';
  Object.assign(programme, { name: 'Thyroid line of the bench', hospital: 'Bench Hospital', night: 'Bench Hospital' });
  for (const [id, site] of Object.entries<{ name: string }>(programme.sites)) site.name = `CLINIC ${id.toUpperCase()}`;
  for (const [id, laboratory] of Object.entries<{ name: string; address: string }>(programme.laboratories)) {
    Object.assign(laboratory, { name: `Laboratory ${id}`, address: `${id} street` });
  }
  const file = join(folder, 'programme.yaml');
  writeFileSync(file, stringify(programme));
  return file;
}

/** The shipped flows and texts with that programme. Throws when it is not sound. */
export function contentWith(programmeFile: string): Content {
  const content = loadContent(packageRoot, programmeFile);
  const [first] = content.problems;
  if (first) throw new Error(`${first.file}: ${JSON.stringify(first)}`);
  return content;
}

/** Number of a worker's phone. */
export function phoneOf(worker: number): string {
  return `+00055502${String(worker).padStart(4, '0')}`;
}

/** Health workers who have joined and practised, on SMS. */
export function workersOf(programmeId: string, count: number): readonly Person[] {
  return Array.from({ length: count }, (_, worker) => ({
    id: `w${worker}`,
    programmeId,
    name: `Worker ${worker}`,
    roles: ['worker'],
    siteId: siteOf(worker),
    locale: 'en',
    addresses: [{ channel: 'sms', address: phoneOf(worker) }],
    rank: 0,
    state: 'joined',
    practised: true,
    shared: false,
  }));
}

/** Everybody else without whom a line does not start: nobody of them is written to while the bench runs. */
export function staffOf(programmeId: string): readonly Person[] {
  const staff = [
    ['d0', 'doctor', 'oruma'],
    ['d1', 'doctor', 'oruma'],
    ['c0', 'coordinator', 'oruma'],
    ['l0', 'lab', 'velin'],
    ['l1', 'lab', 'mora'],
  ] as const;
  const [like] = workersOf(programmeId, 1);
  return staff.map(([id, role, siteId], place) => ({
    ...like!,
    ...{ id, name: `Person ${id}`, roles: [role], siteId, rank: role === 'doctor' ? place + 1 : 0 },
    addresses: [{ channel: 'sms', address: `+0005550300${place}0` }],
  }));
}
