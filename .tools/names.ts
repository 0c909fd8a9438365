// Writes src/generated: the names of texts, flows, states, fields and options, which the compiler then knows.
import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { benchTable, benchWordsOf } from '../src/content/bench-words.ts';
import { fieldsOfItems, fieldTypes } from '../src/content/field-types.ts';
import { loadContent, packageRoot } from '../src/content/load.ts';
import { namesOf } from '../src/content/names.ts';

const folder = fileURLToPath(new URL('../src/generated/', import.meta.url));
const head = '// Written by `npm run names` from locales/en and flows; a test compares.\n';
const content = loadContent();
const names = namesOf(content);

function table(name: string, of: object): string {
  return `export const ${name} = ${JSON.stringify(of, null, 2)} as const;\n`;
}

const files = {
  'text-keys': `${table('textKeys', names.textKeys)}
/** Keys of one file of texts, without its name. */
export type KeyIn<F extends keyof typeof textKeys> = (typeof textKeys)[F][number];

/** A text as \`file.key\`. */
export type TextKey = { [F in keyof typeof textKeys]: \`\${F}.\${KeyIn<F>}\` }[keyof typeof textKeys];
`,
  'flow-names': `export const flowNames = ${JSON.stringify(Object.keys(names.stateNames))} as const;

export type FlowName = (typeof flowNames)[number];
`,
  'state-names': `import type { FlowName } from './flow-names.ts';

${table('stateNames', names.stateNames)}
/** States of one flow, or of any. */
export type StateName<F extends FlowName = FlowName> = (typeof stateNames)[F][number];
`,
  'option-ids': `${table('asks', names.asks)}
type Ask = (typeof asks)[keyof typeof asks];

/** What may be answered to the questions of a field. */
export type OptionId<F extends Ask['field']> = Extract<Ask, { readonly field: F }>['options'][number];
`,
  'bench-words': `${table('benchWords', benchTable(benchWordsOf(packageRoot, 'en')))}
/** A word of the bench's page. */
export type BenchWord = keyof typeof benchWords;
`,
  fields: `import type { ReadValues } from '../case/read-values.ts';
import type { OptionId } from './option-ids.ts';

/** Answers that a question of a flow records, with what is recorded. */
export interface FieldValues {
${fieldTypes(content.flows)
  .map(([field, type]) => `  readonly ${JSON.stringify(field)}: ${type};`)
  .join('\n')}
}

/** Dotted path of an answer. */
export type Field = keyof FieldValues;

/** Those that are asked about one nodule or specimen. */
export type AskedOfItem = ${fieldsOfItems(content.flows)
    .map((field) => JSON.stringify(field))
    .join(' | ')};
`,
};

mkdirSync(folder, { recursive: true });
for (const [name, text] of Object.entries(files)) writeFileSync(`${folder}${name}.ts`, `${head}${text}`);
execFileSync('npx', ['biome', 'check', '--write', folder], { stdio: 'inherit' });
