import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkEverything } from '../../src/content/check-everything.ts';
import { shippedNames } from '../../src/content/check-shipped.ts';
import { packageRoot } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';
import { saidVars } from '../../src/content/said-vars.ts';
import { registry } from '../../src/conversation/matters.ts';
import { shipped as content } from '../support/shipped.ts';

const present = content.sources.locales.flatMap((locale) => locale.files.map((file) => file.name));
const files = [...new Set(['common', 'doctor', 'duty', 'join', ...present])];
const source = readdirSync(join(packageRoot, 'src'), { recursive: true, encoding: 'utf8' })
  // Columns of tables, and names of questions, look like text keys.
  .filter((name) => name.endsWith('.ts') && !/^(store|generated)/.test(name))
  .map((name) => readFileSync(join(packageRoot, 'src', name), 'utf8').replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gmu, ''))
  .join('\n');

/** Text keys that code writes out, `file.key`; a key that ends in a value becomes `file.start*`. */
const written = [...source.matchAll(/['`]([a-z-]+)\.([a-z0-9-]*)(\$\{[^}]*\}[^'`]*)?['`]/gu)]
  .filter((found) => files.includes(found[1]!))
  .map((found) => `${found[1]}.${found[2]}${found[3] === undefined ? '' : '*'}`);

describe('the content of the package', () => {
  it('is sound: flows, texts of every language, programme', () => {
    const problems = checkEverything(content, { ...registry, textKeys: written, shipped: shippedNames });
    expect(problems.map(problemLine)).toEqual([]);
  });

  it('holds every text that code names', () => {
    // What code posts to a flow is named alike: `read-back.over`.
    const events = new Set(
      [...content.flows.newest.values()].flatMap((flow) => [
        ...flow.anywhere.keys(),
        ...[...flow.states.values()].flatMap((one) => [...one.transitions.keys()]),
      ]),
    );
    const lacking = written.filter((key) => !key.endsWith('*') && !events.has(key as never) && !content.texts.has(key));
    expect(lacking).toEqual([]);
  });

  it('names every value that code hands over with a text, once', () => {
    const handed = [...source.matchAll(/\bvars: \{ ([^}]*) \}/gu)]
      .flatMap((found) => found[1]!.split(', '))
      .flatMap((one) => /^([a-z][A-Za-z]*)(:|$)/u.exec(one)?.[1] ?? []);
    const nameless = handed.filter(
      (name) => !saidVars.has(name) && (!registry.values.has(name) || registry.hiding.has(name)),
    );
    // For code only: no text shows them.
    expect([...new Set(nameless)].sort()).toEqual([
      'again',
      'check',
      'checksBefore',
      'comesAt',
      'heard',
      'notDone',
      'outdated',
      'question',
      'quick',
      'redo',
      'signAt',
      'silentAt',
      'silentTimes',
      'stick',
      'these',
      'toldAt',
    ]);
  });
});
