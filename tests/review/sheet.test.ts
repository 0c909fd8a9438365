import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { allToSign } from '../../src/cli/ready/to-sign.ts';
import { reviewSheet } from '../../src/cli/review-sheet.ts';
import { clinicalNumbersOf } from '../../src/content/clinical-numbers.ts';
import { loadContent, packageRoot } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { escaped } from '../../src/drawings/ink.ts';
import { clinicalNumbers } from '../../src/generated/clinical-numbers.ts';
import { packageWith, spoilt, watchTexts } from '../content/package-fixture.ts';
import { madeUp, madeUpPackage, mark } from '../language/made-up.ts';
import { shipped } from '../support/shipped.ts';

const twoRoot = madeUpPackage('new.breathing');
afterAll(() => rmSync(twoRoot, { recursive: true, force: true }));
const two = reviewSheet(loadContent(twoRoot), twoRoot, registry, madeUp);
const english = reviewSheet(shipped, packageRoot, registry, null);

/** Keys of all strings of a file, read without the sheet's own reader. */
function keysIn(file: string, value: unknown): readonly string[] {
  if (Array.isArray(value) && value.length === 0) return [];
  if (typeof value === 'string' || Array.isArray(value)) return [file];
  return Object.entries(value as object).flatMap(([key, one]) => keysIn(`${file}.${key}`, one));
}

const folder = join(packageRoot, 'locales/en');
const keys = readdirSync(folder)
  .flatMap((file) => keysIn(file.replace('.json', ''), JSON.parse(readFileSync(join(folder, file), 'utf8'))))
  // A published list of words; empty lists say nothing.
  .filter((key) => key !== 'everyday.familiar');

function rowOf(page: string, key: string): string {
  return page.split('<article ').find((row) => row.includes(` data-key="${key}"`)) ?? '';
}

function sectionOf(page: string, id: string): string {
  return new RegExp(`<section id="${id}">[\\s\\S]*?</section>`, 'u').exec(page)?.[0] ?? '';
}

describe('the review sheet', () => {
  it.each([
    ['English alone', english],
    ['two languages', two],
  ])('%s: every string of every file stands in it, each once', (_what, page) => {
    const there = [...page.matchAll(/<article [^>]*? data-key="([^"]*)"/gu)].map((found) => found[1]!);
    expect(keys.length).toBeGreaterThan(2000);
    expect(there.toSorted()).toEqual(keys.map(escaped).toSorted());
  });

  it('every flow is drawn, with every state, what it asks and each of its ways out', () => {
    for (const flow of shipped.flows.newest.values()) {
      const section = sectionOf(english, `flow-${flow.name}`);
      const states = [...flow.states.values()];
      for (const [at, { name, ask, transitions }] of states.entries()) {
        const step = section
          .split('<div class="step" ')
          .find((one) => one.startsWith(`id="step-${flow.name}-${at + 1}"`))!;
        expect(step, name).toContain(`<b>${at + 1} ${name}</b>`);
        expect(step.match(/<li>/gu) ?? [], name).toHaveLength(transitions.size);
        if (ask) expect(step, name).toContain(`asks: ${escaped(ask.field)}`);
        for (const { id, reply } of ask?.options ?? [])
          expect(step).toContain(escaped(`${reply} ${shipped.texts.label('en', ask!.field, id)}`.trim()));
      }
      expect(section, flow.name).toContain(`Read: <b>flow ${flow.name}</b>`);
    }
  });

  it('the flows stand as a case walks them, each once', () => {
    const order = [...english.matchAll(/<section id="flow-([^"]*)"/gu)].map((found) => found[1]!);
    expect(order.toSorted()).toEqual([...shipped.flows.newest.keys()].toSorted());
    const walked = [
      'new',
      'decision',
      'target',
      'node',
      'ready',
      'sampling',
      'labelling',
      'aftercare',
      'posting',
      'action',
    ];
    expect(order.filter((name) => walked.includes(name))).toEqual(walked);
  });

  it('every clinical number stands with its value and its source, as the paper has them today (npm run sign-offs)', () => {
    expect(clinicalNumbers).toEqual(
      clinicalNumbersOf(readFileSync(join(packageRoot, 'deploy/clinical-numbers.md'), 'utf8')),
    );
    const rows = sectionOf(english, 'numbers').split('<tr>');
    for (const { what, value, source } of clinicalNumbers) {
      const row = rows.find((one) => one.startsWith(`<td>${escaped(what)}</td><td>${escaped(value)}<`)) ?? '';
      expect(row, what).toContain(`<td>${escaped(source)}<`);
    }
  });

  it('a number that the programme sets has the value of the programme in use', () => {
    const durations = { ...shipped.programme.durations, 'watch-short': 47 * 60_000 };
    const own = { ...shipped, programme: { ...shipped.programme, durations } };
    expect(sectionOf(reviewSheet(own, packageRoot, registry, null), 'numbers')).toContain('in this programme: 47m');
    expect(sectionOf(english, 'numbers')).not.toContain('in this programme: 47m');
  });

  it('all that a clinician signs stands in it, with room for each', () => {
    const section = sectionOf(english, 'conventions');
    for (const { id, value } of allToSign(shipped)) {
      expect(section).toContain(`<code>${escaped(id)}</code>`);
      expect(section).toContain(escaped(value));
    }
  });

  it.each([
    ['new.check-not-known', 'NOT KNOWN: {words}.'],
    ['new.pregnant-short-weeks', 'P{number}w'],
  ])('a part of other texts, %s, shows no value that it never has', (key, words) => {
    expect(rowOf(english, key)).toContain(`<div class="screen"><p>${words}</p>`);
  });

  it('a text is shown as its screens on a phone, with usual values and what they take', () => {
    const screens = rowOf(english, 'sampling.brief-before')
      .split('data-was')[1]!
      .split('<div class="screen">')
      .slice(1);
    const written = (JSON.parse(readFileSync(join(folder, 'sampling.json'), 'utf8')) as Record<string, unknown>)[
      'brief-before'
    ];
    expect(screens).toHaveLength(Array.isArray(written) ? written.length : 1);
    for (const screen of screens) {
      expect(screen).toMatch(/<small>\d+ of 160<\/small>/u);
      expect(/<p>(.*?)<\/p>/su.exec(screen)![1]).not.toMatch(/\{/u);
    }
  });

  it('another language stands beside English; what it lacks is room to write', () => {
    const row = rowOf(two, 'aftercare.neck');
    const text = (JSON.parse(readFileSync(join(folder, 'aftercare.json'), 'utf8')) as Record<string, string>).neck!;
    expect(row).toContain(`lang="${madeUp}"`);
    expect(row).toContain(`>\n${escaped(mark(text))}</textarea>`);
    const shown = /class="own"[\s\S]*?<small>/u.exec(row)![0];
    expect(shown).toContain(mark('is the voice normal'));
    expect(shown).not.toContain('{tag}');
    expect(rowOf(two, 'new.breathing')).toContain('<div class="room"></div>');
    expect(rowOf(two, 'new.breathing')).toContain('data-was="null"');
    expect(two.match(/<div class="room">/gu)).toHaveLength(1);
  });

  it('with English alone every text has room for another language', () => {
    expect(english.match(/<div class="room">/gu)).toHaveLength(
      keys.filter((key) => !/^(quick|everyday|cautions)\./u.test(key)).length,
    );
  });

  it('asks nothing of any other place: no address, no file, one script by its hash', () => {
    expect(english).not.toMatch(/https?:|\bsrc=|url\(|@import|<link/u);
    expect([...english.matchAll(/href="([^"]*)"/gu)].filter(([, to]) => !to!.startsWith('#'))).toEqual([]);
    const script = /<script>([\s\S]*?)<\/script>/u.exec(english)![1]!;
    expect(english).toContain(`script-src 'sha256-${createHash('sha256').update(script).digest('base64')}'`);
  });

  it('every link leads to something in it', () => {
    const ids = new Set([...english.matchAll(/ id="([^"]*)"/gu)].map((found) => found[1]!));
    const links = [...english.matchAll(/href="#([^"]*)"/gu)].map((found) => found[1]!);
    expect(links.length).toBeGreaterThan(100);
    expect(links.filter((one) => !ids.has(one))).toEqual([]);
  });

  it('nobody’s words become HTML, in a text, a label or the name of a programme', () => {
    const evil = '</script><img src=x onerror=alert(1)>"';
    const texts = spoilt(
      spoilt(watchTexts, 'Press until', `${evil.replaceAll('"', '\\"')}`),
      'well|fine',
      `<i>well|fine`,
    );
    const root = packageWith({ 'locales/en/watch.json': texts });
    const content = loadContent(root);
    const named = { ...content, programme: { ...content.programme, name: evil } };
    const page = reviewSheet(named, root, { samples: new Map([['tag', evil]]) }, null);
    expect(page).toContain('&lt;img src=x');
    expect(page).not.toContain('<img');
    expect(page).not.toContain('<i>well');
    expect(page.match(/<\/script>/gu)).toHaveLength(2);
  });
});
