// Writes src/generated/sign-offs.ts: what a clinician of the programme has to sign, from the papers and the programme;
// and src/generated/clinical-numbers.ts: the list of clinical numbers, which is there when its paper is not.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { clinicalNumbersOf } from '../src/content/clinical-numbers.ts';
import { signOffsOf } from '../src/content/sign-offs.ts';

const root = new URL('../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');
const file = fileURLToPath(new URL('src/generated/sign-offs.ts', root));
const list = signOffsOf({
  programme: read('flows/programme.yaml'),
  numbers: read('deploy/clinical-numbers.md'),
  hazards: read('deploy/hazards.md'),
});
writeFileSync(
  file,
  `// Written by \`npm run sign-offs\` from flows/programme.yaml and deploy; a test compares.
/** One thing to sign. The value of a \`programme\` one is that of the programme in use, and stands nowhere here. */
export type SignOff =
  | { readonly id: string; readonly kind: 'programme'; readonly what: string }
  | { readonly id: string; readonly kind: 'number' | 'hazard'; readonly what: string; readonly value: string };

export const signOffs: readonly SignOff[] = ${JSON.stringify(list, null, 2)};
`,
);
const numbersFile = fileURLToPath(new URL('src/generated/clinical-numbers.ts', root));
const numbers = clinicalNumbersOf(read('deploy/clinical-numbers.md'));
writeFileSync(
  numbersFile,
  `// Written by \`npm run sign-offs\` from deploy/clinical-numbers.md; a test compares.
/** One clinical number. \`key\`: its name in the programme, '' where it stands in the code. */
export interface ClinicalNumber {
  readonly heading: string;
  readonly what: string;
  readonly value: string;
  readonly file: string;
  readonly key: string;
  readonly source: string;
}

export const clinicalNumbers: readonly ClinicalNumber[] = ${JSON.stringify(numbers, null, 2)};
`,
);
execFileSync('npx', ['biome', 'check', '--write', file, numbersFile], { stdio: 'inherit' });
