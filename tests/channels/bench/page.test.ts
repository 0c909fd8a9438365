import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { pageFiles } from '../../../src/channels/bench/pages.ts';
import { benchWordsOf } from '../../../src/content/bench-words.ts';
import { packageRoot } from '../../../src/content/load.ts';

const files = pageFiles(join(packageRoot, 'dist', 'bench'), benchWordsOf(packageRoot, 'en'), 'en');
const [html, style, script] = ['/', '/page.css', '/page.js'].map((path) => files.get(path)!.body) as [
  string,
  string,
  string,
];

describe('page of the phone bench', () => {
  it('puts words of people in as text only', () => {
    for (const word of ['innerHTML', 'outerHTML', 'insertAdjacentHTML', 'document.write', 'eval(', 'new Function']) {
      expect(script).not.toContain(word);
    }
  });

  it('asks nobody else for anything, and runs under its own content policy', () => {
    for (const part of [html, script, style]) {
      expect(part.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:|["'`]\/\/[a-z]|url\(|@import/);
    }
    expect(html).not.toMatch(/ style=| on[a-z]+=|<style|<script>/);
  });

  it('is small: all of it under 120 kB', () => {
    const bytes = [html, style, script].reduce((sum, part) => sum + Buffer.byteLength(part), 0);
    expect(bytes).toBeLessThan(120_000);
  });
});
