import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach } from 'vitest';
import { checkEverything } from '../../src/content/check-everything.ts';
import type { CheckRegistry } from '../../src/content/check-registry.ts';
import { loadContent, packageRoot } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A sound flow of six states; tests spoil one line of it. */
export const watchFlow = `flow: watch
initial: press
anywhere:
  result.filed: { target: done }
states:
  press:
    say: press-words
    timers: { over: { after: spray-dry } }
    transitions:
      timer.over: length
  length:
    decide: watch-length
    transitions: { short: neck, long: neck }
  neck:
    ask: { field: neck, kind: choice, options: [well, changed, unknown] }
    timers:
      silent: { after: neck-answer }
    transitions:
      well: done
      changed: { question: { urgency: now, about: neck-changed, options: { refer: '1', call-me: '2 care' } }, target: wait }
      unknown: again
      timer.silent: { question: { urgency: now, about: neck-changed, options: [refer] } }
  wait:
    transitions:
      neck-changed.refer: done
      neck-changed.call-me: done
  again:
    say: [press-words, doctor.hint]
    transitions: { next: press }
  done: { final: true }
`;

/** The words that go with it. */
export const watchTexts = `{
  "press-words": "Press until {time}.",
  "neck": "{tag}: neck? 1 well 2 changed 9 cannot tell",
  "options": {
    "neck": {
      "well": "well|fine",
      "changed": "changed|swollen"
    }
  }
}
`;

const quick = JSON.stringify({
  ...{ start: [], fillers: [], doubts: [], denials: [], none: [], sides: {}, units: {} },
  patient: { sex: {}, pregnant: [], years: [], weeks: [] },
  ...{ lists: {}, numbersBehind: {}, numbersBefore: {}, words: {} },
});

const real = (file: string) => readFileSync(join(packageRoot, file), 'utf8');

/** A package folder with one sound flow, the real programme and English; `files` replace or add, null removes. */
export function packageWith(files: Readonly<Record<string, string | null>> = {}): string {
  const root = mkdtempSync(join(tmpdir(), 'neckline-content-'));
  folders.push(root);
  const all: Record<string, string | null> = {
    'flows/programme.yaml': real('flows/programme.yaml'),
    'flows/watch.yaml': watchFlow,
    'locales/en/meta.json': real('locales/en/meta.json'),
    'locales/en/keywords.json': real('locales/en/keywords.json'),
    'locales/en/quick.json': quick,
    'locales/en/alarm.json': real('locales/en/alarm.json'),
    'locales/en/everyday.json': real('locales/en/everyday.json'),
    'locales/en/common.json': '{ "options": { "*": { "unknown": "cannot tell" } } }',
    'locales/en/doctor.json': '{ "neck-changed": "Neck changed. 1 refer 2 call me", "hint": "Ask DOCTOR." }',
    'locales/en/watch.json': watchTexts,
    ...files,
  };
  for (const [file, text] of Object.entries(all)) {
    if (text === null) continue;
    mkdirSync(dirname(join(root, file)), { recursive: true });
    writeFileSync(join(root, file), text);
  }
  return root;
}

/** The same package in a second language whose files are the English ones, spoilt by `change`. */
export function inSwahili(watch: string): Readonly<Record<string, string>> {
  return {
    'locales/sw/meta.json': real('locales/en/meta.json'),
    'locales/sw/keywords.json': real('locales/en/keywords.json'),
    'locales/sw/quick.json': quick,
    'locales/sw/alarm.json': real('locales/en/alarm.json'),
    'locales/sw/everyday.json': real('locales/en/everyday.json').replace(
      '"words": [',
      '"words": ["sijui sawa imebadilika",',
    ),
    'locales/sw/common.json': '{ "options": { "*": { "unknown": "sijui" } } }',
    'locales/sw/doctor.json': '{ "neck-changed": "Shingo. 1 rufaa 2 piga simu", "hint": "Uliza DOCTOR." }',
    'locales/sw/watch.json': watch,
  };
}

/** The names that the sound flow uses. */
export const watchRegistry: CheckRegistry = {
  decisions: new Map([['watch-length', { outcomes: ['short', 'long'] }]]),
  recorders: new Set(['aftercare-done']),
  values: new Set(['time', 'tag', 'attempt', 'count', 'secret']),
  readers: new Set(['slides']),
  instants: new Set(['appointment-day']),
  events: new Set(['result.filed']),
};

/** Problem lines of a package. */
export function problemsOf(
  files: Readonly<Record<string, string | null>> = {},
  registry: CheckRegistry = watchRegistry,
): readonly string[] {
  return checkEverything(loadContent(packageWith(files)), registry).map(problemLine);
}

/** The sound flow with one piece replaced; throws when the piece is not there, so that a test cannot pass by mistake. */
export function spoilt(text: string, piece: string, by: string): string {
  if (!text.includes(piece)) throw new Error(`not in the fixture: ${piece}`);
  return text.replace(piece, by);
}
