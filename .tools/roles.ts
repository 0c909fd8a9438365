// Writes the tables of deploy/roles.md that a test compares with what the line really allows.
import { readFileSync, writeFileSync } from 'node:fs';
import { registry } from '../src/conversation/matters.ts';
import { rolesText } from '../src/conversation/roles.ts';

const file = new URL('../deploy/roles.md', import.meta.url);
const text = readFileSync(file, 'utf8');
const between = /(<!-- roles -->\n)[\s\S]*?(<!-- \/roles -->)/;
writeFileSync(
  file,
  text.replace(between, (_all, open: string, close: string) => `${open}${rolesText(registry)}\n${close}`),
);
