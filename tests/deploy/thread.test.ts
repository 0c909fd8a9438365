import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { packageRoot } from '../../src/content/load.ts';
import { runMain } from '../support/run-main.ts';

const read = (name: string): string => readFileSync(join(packageRoot, name), 'utf8');
const page = read('deploy/README.md');
/** What is typed: lines set apart, and words between backquotes. */
const blocks = page.split('\n').flatMap((line) => /^ {4,}(\S.*)$/.exec(line)?.[1] ?? []);
const inline = [...page.matchAll(/`([^`\n]+)`/g)].map((found) => found[1]!);
const typed = [...blocks, ...inline].flatMap((line) => line.split(/ (?:&&|>) /));
const wordsOf = (line: string): readonly string[] => line.match(/"[^"]*"|\S+/g) ?? [];
const found = (pattern: RegExp): readonly string[] => [...new Set([...page.matchAll(pattern)].map((one) => one[1]!))];

const calls = [...new Set(typed.filter((line) => /^neckline [a-z]/.test(line)))];
/** Commands whose first word says what they do. */
const withWords = ['roster', 'keys', 'audit', 'alert'];

describe('the one thread of the papers', () => {
  it('has many commands', () => expect(calls.length).toBeGreaterThan(30));

  it.each(calls)('%s is a command with these options', async (call) => {
    const [, name = '', ...words] = wordsOf(call);
    const help = await runMain(name, '--help');
    expect(help.exit, help.err).toBe(0);
    const options: readonly string[] = help.out.match(/--[a-z][a-z-]*/g) ?? [];
    const typedOptions = words.filter((word) => word.startsWith('-')).map((word) => word.split('=')[0]);
    expect(typedOptions.filter((word) => !options.includes(word!))).toEqual([]);
    if (withWords.includes(name)) expect(help.out).toMatch(new RegExp(`^neckline ${name}.*\\b${words[0]}\\b`, 'm'));
  });

  it.each(typed.filter((line) => /^(?:sudo )?bash install\.sh /.test(line)))('%s is a way to call it', (line) => {
    const usage = /usage="([^"]+)"/.exec(read('deploy/install.sh'))?.[1];
    for (const [option] of line.matchAll(/--[a-z-]+/g)) expect(usage).toContain(option);
  });

  it('names files, pages and headings that are there', () => {
    const pages = found(/\b([a-z-]+\.(?:md|example\.yaml))\b/g);
    expect(pages.length).toBeGreaterThan(15);
    expect(pages.filter((name) => !existsSync(join(packageRoot, 'deploy', name)))).toEqual([]);
    const carried = found(/\/opt\/neckline\/current\/([\w./-]+\w)/g);
    expect(carried.filter((name) => !existsSync(join(packageRoot, name)))).toEqual([]);
    const headings = [...page.matchAll(/\b([a-z-]+\.md)(?:\]\([^)]*\))?, "([^"]+)"/g)];
    expect(headings.length).toBeGreaterThan(4);
    for (const [, name, heading] of headings) expect(read(`deploy/${name}`)).toContain(`\n## ${heading}\n`);
  });

  it('speaks of units that the package has or that it makes itself', () => {
    const named = blocks
      .filter((line) => /^systemctl (?!daemon-reload|--failed)/.test(line))
      .flatMap((line) => wordsOf(line).slice(2))
      .filter((word) => !word.startsWith('-'))
      .map((word) => (word.includes('.') ? word : `${word}.service`));
    expect(named).toContain('neckline-backup.timer');
    const own = found(/> \/etc\/systemd\/system\/(\S+)$/gm);
    expect(named.filter((name) => !own.includes(name) && !existsSync(join(packageRoot, 'deploy', name)))).toEqual([]);
  });

  it('names settings that there are', () => {
    const settings = found(/\b((?:NECKLINE|DATABASE)_[A-Z0-9_]+[A-Z0-9])\b/g);
    const example = read('deploy/neckline.env.example');
    expect(settings.filter((name) => !example.includes(`\n${name}=`))).toEqual([]);
  });

  it('leads to every other page', () => {
    for (const name of ['install.md', 'programme.md', 'ready.md', 'sms.md', 'backup.md', 'figures.md'])
      expect(page).toContain(`](${name})`);
  });
});
