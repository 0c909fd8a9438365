import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { settingNames } from '../../src/config.ts';

describe('the explained example of settings', () => {
  it('names every setting once and no other', () => {
    const text = readFileSync(new URL('../../deploy/neckline.env.example', import.meta.url), 'utf8');
    const named = [...text.matchAll(/^([A-Z0-9_]+)=/gm)].map((found) => found[1]!);
    expect([...named].sort()).toEqual([...settingNames].sort());
  });
});
