import { randomBytes } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeCandidates } from '../../src/store/code-finder.ts';
import { addressHash, eventKeyHash, keyRingOf } from '../../src/store/keys.ts';
import { recent } from '../../src/store/recent.ts';
import { openJson, seal, sealJson } from '../../src/store/seal.ts';
import { runs } from '../support/runs.ts';

describe('sealing', () => {
  const key = randomBytes(32);

  it('any value opens to what it was, in its own row only', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const plain = JSON.parse(JSON.stringify(value));
        const sealed = sealJson(key, plain, 'row:1');
        expect(openJson(key, sealed, 'row:1')).toEqual(plain);
        expect(() => openJson(key, sealed, 'row:2')).toThrow(/unreadable/);
      }),
      { seed: 20300304, numRuns: runs(200, 10_000) },
    );
  });

  it('one changed bit anywhere is noticed', () => {
    const sealed = seal(key, 'AK 44 F', 'row');
    for (let index = 0; index < sealed.length; index += 1) {
      const changed = Buffer.from(sealed);
      changed[index]! ^= 1;
      expect(() => openJson(key, changed, 'row')).toThrow(/unreadable/);
    }
  });

  it('the same words never give the same bytes', () => {
    const seen = new Set(Array.from({ length: 2_000 }, () => seal(key, 'yes', 'row').toString('hex')));
    expect(seen.size).toBe(2_000);
  });

  it('an address is found again under the same key and programme only', () => {
    const ring = keyRingOf(Buffer.alloc(32, 1));
    const at = { channel: 'sms', address: '+000' };
    const hash = addressHash(ring, 'p', at).toString('hex');
    expect(addressHash(keyRingOf(Buffer.alloc(32, 1)), 'p', at).toString('hex')).toBe(hash);
    const others = [
      addressHash(ring, 'q', at),
      addressHash(ring, 'p', { channel: 'telegram', address: '+000' }),
      addressHash(ring, 'p', { channel: 'sms', address: '+001' }),
      addressHash(keyRingOf(Buffer.alloc(32, 2)), 'p', at),
      eventKeyHash(ring, 'p', '+000'),
    ];
    for (const other of others) expect(other.toString('hex')).not.toBe(hash);
  });
});

describe('what is kept in memory', () => {
  it('the value unused for longest goes first', () => {
    const kept = recent<string, number>(2);
    kept.put('a', 1);
    kept.put('b', 2);
    kept.get('a');
    kept.put('c', 3);
    expect(['a', 'b', 'c'].map((key) => kept.get(key))).toEqual([1, undefined, 3]);
  });
});

describe('codes in a text', () => {
  it.each([
    ['48291354', ['48291354']],
    ['4829 1354 Thy4', ['48291354']],
    ['YES 48291354 1982', ['48291354']],
    ['4829135412', ['4829135412']],
    ['4829 1354 12', ['48291354', '4829135412']],
    ['٤٨٢٩ ١٣٥٤', ['48291354']],
    ['४८२९१३५४', ['48291354']],
    ['22x15x14', []],
    ['482913541', []],
    ['4829  1354', []],
    ['1 2 3', []],
  ])('"%s" may hold %j', (text, codes) => {
    expect(codeCandidates(text)).toEqual(codes);
  });
});

describe('prepared statements', () => {
  it('stand nowhere but with the drivers', () => {
    const root = join(import.meta.dirname, '../../src');
    const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));
    const offenders = files.filter(
      (file) =>
        !file.startsWith(join('store', 'dialects')) && /\.prepare\(/.test(readFileSync(join(root, file), 'utf8')),
    );
    expect(files.length).toBeGreaterThan(30);
    expect(offenders).toEqual([]);
  });
});
