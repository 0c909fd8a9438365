import { chmodSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { keyPlaceFault } from '../../src/store/keys.ts';
import { diskFolder } from '../support/disk-folder.ts';

describe('the place of the key file', () => {
  let folder: string;
  let data: string;
  const put = (...parts: string[]): string => {
    const file = join(folder, ...parts);
    writeFileSync(file, '{}', { mode: 0o600 });
    return file;
  };

  beforeEach(() => {
    folder = diskFolder('neckline-place-');
    data = join(folder, 'data');
    mkdirSync(join(data, 'deep'), { recursive: true });
    mkdirSync(join(folder, 'keys'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('is good outside the data folder, for its owner only', () => {
    expect(keyPlaceFault(put('keys', 'neckline.key'), data)).toBeNull();
    expect(keyPlaceFault(join(folder, 'keys', 'not-made-yet.key'), data)).toBeNull();
    expect(keyPlaceFault(join(folder, 'data-of-another', 'neckline.key'), data)).toBeNull();
  });

  it('is refused in the data folder, at any depth, through a link, and before it is made', () => {
    symlinkSync(data, join(folder, 'link'));
    for (const file of [
      put('data', 'neckline.key'),
      put('data', 'deep', 'neckline.key'),
      join(folder, 'link', 'later.key'),
      join(data, 'later.key'),
    ]) {
      expect(keyPlaceFault(file, data)).toMatch(/in the data folder/);
    }
    symlinkSync(join(data, 'neckline.key'), join(folder, 'keys', 'points-in.key'));
    expect(keyPlaceFault(join(folder, 'keys', 'points-in.key'), data)).toMatch(/in the data folder/);
  });

  it.each([0o770, 0o707, 0o777, 0o1777])(
    'is refused in a folder that others may write (%o), before it is made too',
    (mode) => {
      const file = put('keys', 'neckline.key');
      chmodSync(join(folder, 'keys'), mode);
      expect(keyPlaceFault(file, data)).toMatch(/others may write in .*keys and put another/);
      expect(keyPlaceFault(join(folder, 'keys', 'not-made-yet.key'), data)).toMatch(/others may write/);
      chmodSync(join(folder, 'keys'), 0o755);
      expect(keyPlaceFault(file, data)).toBeNull();
    },
  );

  it('is refused where others may exchange a folder above it; where each takes away their own only it is good', () => {
    mkdirSync(join(folder, 'shared', 'keys'), { recursive: true });
    const file = put('shared', 'keys', 'neckline.key');
    chmodSync(join(folder, 'shared'), 0o777);
    expect(keyPlaceFault(file, data)).toMatch(/others may write in .*shared and put/);
    chmodSync(join(folder, 'shared'), 0o1777);
    expect(keyPlaceFault(file, data)).toBeNull();
  });

  it.each([0o640, 0o604, 0o644, 0o660])('is refused when others may read it (%o)', (mode) => {
    const file = put('keys', 'neckline.key');
    chmodSync(file, mode);
    expect(keyPlaceFault(file, data)).toMatch(/others may read/);
  });
});
