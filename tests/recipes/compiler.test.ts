import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

/*
 * Recipes of DEVELOPERS.md whose steps the compiler knows. In a copy of the source each is begun and its other steps are
 * left out, all of them in one run: every step that was left out has to be named, in its file.
 */
interface Recipe {
  readonly recipe: string;
  readonly file: string;
  readonly is: string;
  readonly becomes: string;
  /** Files of the steps that were left out, each with words of its error. */
  readonly refused: Readonly<Record<string, RegExp>>;
}

const recipes: readonly Recipe[] = [
  {
    recipe: 'a policy table',
    file: 'src/clinical/policies/policy.ts',
    is: "'ata-2015'] as const",
    becomes: "'ata-2015', 'table-2030'] as const",
    refused: {
      'src/clinical/follow-up-interval.ts': /table-2030/,
      'src/clinical/reasons.ts': /table-2030/,
      'src/conversation/matters/decision-words.ts': /table-2030/,
    },
  },
  {
    recipe: 'a status',
    file: 'src/case/case.ts',
    is: "  'closed',\n] as const;",
    becomes: "  'closed',\n  'set-apart',\n] as const;",
    refused: { 'src/case/duty.ts': /set-apart/, 'src/case/bedside.ts': /set-apart/ },
  },
  {
    recipe: 'a case event',
    file: 'src/case/events.ts',
    is: "type: 'noted'",
    becomes: "type: 'whispered' } | { readonly type: 'noted'",
    refused: {
      'src/case/case.ts': /whispered/,
      'src/case/may-happen.ts': /whispered/,
      'src/case/stock.ts': /whispered/,
      'src/conversation/matters/case-history.ts': /whispered/,
    },
  },
  {
    recipe: 'a kind of due row',
    file: 'src/conversation/event.ts',
    is: "{ readonly kind: 'overdue'; readonly caseId: string };",
    becomes: "{ readonly kind: 'overdue'; readonly caseId: string } | { readonly kind: 'tide' };",
    refused: {
      'src/conversation/wake.ts': /tide/,
      'src/conversation/stopped.ts': /tide/,
      'src/line/is-alarm.ts': /tide/,
    },
  },
  {
    recipe: 'a reader of an answer with a misspelt field',
    file: 'src/conversation/matters/again.ts',
    is: "textAnswer(m, 'review-day')",
    becomes: "textAnswer(m, 'revue-day')",
    refused: { 'src/conversation/matters/again.ts': /revue-day/ },
  },
  {
    recipe: 'a reader of an answer as what it is not',
    file: 'src/conversation/matters/hindrances.ts',
    is: "listAnswer(moment, 'dangers')",
    becomes: "listAnswer(moment, 'pressure')",
    refused: { 'src/conversation/matters/hindrances.ts': /pressure/ },
  },
  {
    recipe: 'a reader of an option that its question does not have',
    file: 'src/conversation/matters/findings-words.ts',
    is: "'patient.pregnant') !== 'yes'",
    becomes: "'patient.pregnant') !== 'surely'",
    refused: { 'src/conversation/matters/findings-words.ts': /surely/ },
  },
  {
    recipe: 'an answer about a nodule with a misspelt field',
    file: 'src/conversation/matters/measured-nodules.ts',
    is: "itemKey(id, 'site')",
    becomes: "itemKey(id, 'sight')",
    refused: { 'src/conversation/matters/measured-nodules.ts': /sight/ },
  },
  {
    recipe: 'a column',
    file: 'src/store/schema.ts',
    is: '  handed_at: number | null;',
    becomes: '  drawn_at: number;\n  handed_at: number | null;',
    refused: { 'src/store/hot.ts': /drawn_at/ },
  },
  {
    recipe: 'a picture on the label',
    file: 'src/line/ports.ts',
    is: '  readonly picture?: string;',
    becomes: '  readonly picture?: string;\n  readonly drawing: Uint8Array;',
    refused: { 'src/line/handle.ts': /drawing/, 'src/line/set-aside.ts': /drawing/, 'src/store/outbox.ts': /drawing/ },
  },
  {
    recipe: 'a channel',
    file: 'src/line/ports.ts',
    is: 'export interface Channel {',
    becomes: 'export interface Channel {\n  readonly draws: boolean;',
    refused: {
      'src/channels/bench/channel.ts': /draws/,
      'src/channels/play/network.ts': /draws/,
      'src/channels/sms/channel.ts': /draws/,
      'src/channels/telegram/channel.ts': /draws/,
    },
  },
  {
    recipe: 'a line of the log',
    file: 'src/line/mender.ts',
    is: "log.write('",
    becomes: "log.write('warn', 'seen', { weather: 'fair' });\n      this.parts.log.write('",
    refused: { 'src/line/mender.ts': /weather/ },
  },
];

const root = fileURLToPath(new URL('../../', import.meta.url));
let copy = '';
let said = '';

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), 'neckline-recipes-'));
  cpSync(join(root, 'src'), join(copy, 'src'), { recursive: true });
  cpSync(join(root, 'package.json'), join(copy, 'package.json'));
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  const settings = JSON.parse(readFileSync(join(root, 'tsconfig.json'), 'utf8')) as object;
  writeFileSync(join(copy, 'tsconfig.json'), JSON.stringify({ ...settings, include: ['src'] }));
  for (const { recipe, file, is, becomes } of recipes) {
    const source = readFileSync(join(copy, file), 'utf8');
    if (!source.includes(is)) throw new Error(`${recipe}: ${is} does not stand in ${file}`);
    writeFileSync(join(copy, file), source.replace(is, becomes));
  }
  const compiler = join(root, 'node_modules/typescript/bin/tsc');
  try {
    execFileSync(process.execPath, [compiler, '-p', '.', '--noEmit', '--pretty', 'false'], { cwd: copy });
  } catch (error) {
    said = String((error as { readonly stdout?: unknown }).stdout);
  }
}, 180_000);

afterAll(() => rmSync(copy, { recursive: true, force: true }));

/** The errors of a file, each with the lines that explain it. */
function errorsOf(file: string): string {
  return said
    .split(/\n(?=\S)/)
    .filter((error) => error.startsWith(`${file}(`))
    .join('\n');
}

const steps = recipes.flatMap(({ recipe, refused }) =>
  Object.entries(refused).map(([file, words]) => [recipe, file, words] as const),
);

describe('the compiler refuses', () => {
  it.each(steps)('%s without its step in %s', (_recipe, file, words) => {
    expect(errorsOf(file)).toMatch(words);
  });
});
