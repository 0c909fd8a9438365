// Writes src/generated/sign-offs.ts: what a clinician of the programme has to sign, from the papers and the programme.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
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
execFileSync('npx', ['biome', 'check', '--write', file], { stdio: 'inherit' });
