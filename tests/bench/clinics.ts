/** Clinics and people of the bench: two health workers a clinic, invented numbers. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse, stringify } from 'yaml';
import { type Content, loadContent, packageRoot } from '../../src/content/load.ts';
import type { Person } from '../../src/conversation/world.ts';

export const workersPerClinic = 2;
const siteOf = (worker: number) => `clinic${Math.floor(worker / workersPerClinic)}`;

/** Writes the package's programme with clinics for so many workers into `folder`; gives its file. */
export function writeProgramme(folder: string, workers: number): string {
  const programme = parse(readFileSync(join(packageRoot, 'flows/programme.yaml'), 'utf8'));
  const like = programme.sites.oruma;
  for (let worker = 0; worker < workers; worker += workersPerClinic) {
    programme.sites[siteOf(worker)] = { ...like, name: `CLINIC ${worker}` };
  }
  programme.voiceNumber = '+000555019999';
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
