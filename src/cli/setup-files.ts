/** The files of a programme as its answers make them, read back by the readers of the line before anything is written. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readSettings } from '../config.ts';
import { type Content, packageRoot } from '../content/load.ts';
import { type Problem, sortProblems } from '../content/problem.ts';
import { readProgramme } from '../content/programme.ts';
import { nameProblems } from '../content/programme-names.ts';
import type { Path } from '../content/yaml-source.ts';
import type { Programme } from '../conversation/programme.ts';
import { readSettingsFile } from '../settings-file.ts';
import type { Answers, ReadAnswers } from '../setup/answers.ts';
import { cautionsOf } from '../setup/cautions.ts';
import { placeInAnswers, placeOfSetting } from '../setup/fault-places.ts';
import { folderFiles, placesOf } from '../setup/kept-files.ts';
import { programmeText, withoutRetired } from '../setup/programme-text.ts';
import { rosterText } from '../setup/roster-text.ts';
import { settingsText } from '../setup/settings-text.ts';
import { Refused } from './open-line.ts';
import { readRoster } from './roster-file.ts';
import { countryOf, mappingOf, prefixesOf } from './sms-link.ts';

/** One file as it is and as it would be. */
export interface MadeFile {
  readonly name: string;
  /** Null = it is not there yet. */
  readonly before: string | null;
  readonly text: string;
}

export type Made =
  | { readonly files: readonly MadeFile[]; readonly cautions: readonly string[]; readonly problems: readonly [] }
  | { readonly files: null; readonly problems: readonly Problem[] };

/** Stands for a secret that is not there yet, so that all else can be read. */
const secretToCome = '-'.repeat(24);

/**
 * Programme, roster and settings of these answers in `folder`, or every fault of all of them, each with its place in
 * `file`, which holds the answers. `shipped`: the package's content.
 */
export function makeFiles(file: string, read: ReadAnswers, folder: string, shipped: Content): Made {
  const problems = [...read.problems];
  const { answers, lineOf, pathInFile } = read;
  const none = (): Made => ({ files: null, problems: sortProblems(problems) });
  if (!answers) return none();
  const fault = (path: Path, what: string, todo: string): unknown =>
    problems.push({ file, line: lineOf(path), path: pathInFile(path).join('.') || '-', what, todo });

  const pathOf = (name: string): string => join(folder, name);
  const programmeFile = pathOf(folderFiles.programme);
  const [programmeBefore, rosterBefore, settingsBefore] = [
    folderFiles.programme,
    folderFiles.roster,
    folderFiles.settings,
  ].map((name) => textIfThere(pathOf(name))) as [string | null, string | null, string | null];

  const there = programmeBefore === null ? null : readProgramme(programmeFile, withoutRetired(programmeBefore));
  // Nothing can be kept of a file that nobody can read.
  if (there && there.programme === null) {
    problems.push(...there.problems.map((one) => ({ ...one, todo: `${one.todo}; or take the file away` })));
    return none();
  }

  const source = readFileSync(join(packageRoot, 'flows', 'programme.yaml'), 'utf8');
  const programmeFresh = programmeText(answers, source, programmeBefore);
  const own = readProgramme(programmeFile, programmeFresh);
  // The names that flows read are the package's own, so flows and texts need no second look.
  for (const one of [...own.problems, ...nameProblems(programmeFile, own, shipped.programme)]) {
    const path = placeInAnswers(answers, one.path);
    if (one.file !== programmeFile || path === null) problems.push(one);
    else fault(path, one.what, one.todo);
  }

  languageFaults(answers, shipped, fault);
  const prefixes = smsFaults(answers, fault);

  const roster = rosterText(answers);
  const places = own.programme ?? placesAlone(answers, shipped.programme);
  const ofRoster = readRoster(roster.text, { programme: places, texts: shipped.texts }, [], false, { prefixes });
  for (const { line, expected } of ofRoster.faults) {
    const said = expected.replace('NECKLINE_SMS_PREFIXES', 'sms.prefixes');
    fault(['people', roster.people[line - 2] ?? 0], 'does not fit the roster', `expected ${said}`);
  }

  const settings = settingsText(answers, placesOf(answers, folder), settingsBefore);
  for (const { name, line, expected } of settingsFaults(settings)) {
    const path = name === '' ? null : placeOfSetting(name);
    if (path !== null) fault(path, 'does not fit the settings', `expected ${expected}`);
    else
      problems.push({
        ...{ file: pathOf(folderFiles.settings), line: line ?? 1, path: name || '-' },
        ...{ what: 'does not fit the settings', todo: `expected ${expected}` },
      });
  }

  if (problems.length > 0) return none();
  return {
    files: [
      { name: folderFiles.programme, before: programmeBefore, text: programmeFresh },
      { name: folderFiles.roster, before: rosterBefore, text: roster.text },
      { name: folderFiles.settings, before: settingsBefore, text: settings },
    ],
    cautions: there?.programme ? cautionsOf(there.programme, answers) : [],
    problems: [],
  };
}

/** A programme that has the places of the answers, for looking at people where the programme itself has faults. */
function placesAlone({ clinics, laboratories }: Answers, shipped: Programme): Programme {
  const sites = clinics.map(({ id }) => ({ ...shipped.sites[0]!, id }));
  return { ...shipped, sites, laboratories: laboratories.map(({ id }) => ({ ...shipped.laboratories[0]!, id })) };
}

function languageFaults({ programme }: Answers, { texts }: Content, fault: Fault): void {
  const spoken = texts.languages.map(({ tag }) => tag);
  for (const [index, tag] of programme.languages.entries()) {
    if (spoken.includes(tag)) continue;
    fault(['programme', 'languages', index], `the line does not speak ${tag}`, `use one of: ${spoken.join(', ')}`);
  }
}

type Fault = (path: Path, what: string, todo: string) => unknown;

/** Faults of the SMS link as the line itself would find them. Gives the prefixes, null where there are none. */
function smsFaults({ sms }: Answers, fault: Fault): readonly string[] | null {
  if (!sms) return null;
  const tried = <T>(path: Path, read: () => T): T | null => {
    try {
      return read();
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      fault(path, 'does not fit the link', error.message.replace(/^NECKLINE_\w+: /, ''));
      return null;
    }
  };
  tried(['sms', 'country'], () => countryOf(sms.country));
  if (sms.gateway === 'generic' && sms.mapping !== undefined) {
    const { mapping } = sms;
    const generic = { NECKLINE_SMS_GATEWAY: 'generic', NECKLINE_SMS_MAPPING: mapping } as const;
    const read = readSettings(generic);
    if (read.ok) tried(['sms', 'mapping'], () => mappingOf(read.settings));
  }
  return tried(['sms', 'prefixes'], () => prefixesOf(sms.prefixes.join(',')));
}

interface SettingFault {
  readonly name: string;
  readonly line: number | null;
  readonly expected: string;
}

/** What is wrong with settings as they would stand in their file; secrets that are still to come are no fault. */
function settingsFaults(text: string): readonly SettingFault[] {
  const { values, lines, faults } = readSettingsFile(text);
  const given: Record<string, string> = {};
  for (const [name, value] of Object.entries(values)) {
    if (name.startsWith('NODE_')) continue;
    const isToCome = name.endsWith('_FILE') && name !== 'NECKLINE_KEY_FILE' && value !== '' && !existsSync(value);
    if (isToCome) given[name.replace(/_FILE$/, '')] = secretToCome;
    else given[name] = value;
  }
  const read = readSettings(given);
  const ofReader = read.ok
    ? []
    : read.faults.map((said) => {
        const [, name = '', expected = said] = /^([A-Z_0-9]+): (?:expected )?(.*)$/.exec(said) ?? [];
        return { name, line: lines[name] ?? null, expected };
      });
  return [...faults, ...ofReader];
}

/** The text of a file, null where there is none. Throws what else the system says. */
export function textIfThere(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}
