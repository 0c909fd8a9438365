import { describe, expect, it } from 'vitest';
import { readLine } from '../../../src/channels/play/script.ts';

describe('a play script', () => {
  it.each([
    ['', { kind: 'nothing' }],
    ['# a remark', { kind: 'nothing' }],
    ['crash', { kind: 'crash' }],
    ['wait 10m', { kind: 'wait', ms: 600_000 }],
    ['wait 3d', { kind: 'wait', ms: 259_200_000 }],
    ['seed 7', { kind: 'seed', seed: 7 }],
    ['at 2030-03-04T08:00:00Z', { kind: 'at', at: Date.UTC(2030, 2, 4, 8) }],
    ['again w', { kind: 'again', name: 'w' }],
    ['net down w', { kind: 'net', up: false, name: 'w' }],
    ['w> NEW', { kind: 'send', name: 'w', text: 'NEW', agoMs: 0, forged: false }],
    ['w>', { kind: 'send', name: 'w', text: '', agoMs: 0, forged: false }],
    ['w@-10m> 1', { kind: 'send', name: 'w', text: '1', agoMs: 600_000, forged: false }],
    ['forge d> 47 1', { kind: 'send', name: 'd', text: '47 1', agoMs: 0, forged: true }],
    ['w< AK: danger', { kind: 'expect', name: 'w', pattern: 'AK: danger', wanted: true }],
    ['w<! sample', { kind: 'expect', name: 'w', pattern: 'sample', wanted: false }],
    ['w> a\\nb', { kind: 'send', name: 'w', text: 'a\nb', agoMs: 0, forged: false }],
  ])('%s', (line, expected) => {
    expect(readLine(line)).toEqual(expected);
  });

  it('registers a phone with its roles, and one without as a stranger', () => {
    expect(readLine('phone d +000555010002 role=doctor,coordinator site=kesu channel=telegram')).toEqual({
      kind: 'phone',
      name: 'd',
      address: '+000555010002',
      roles: ['doctor', 'coordinator'],
      site: 'kesu',
      locale: 'en',
      channel: 'telegram',
    });
    expect(readLine('phone x +000555010099')).toMatchObject({ kind: 'phone', roles: [] });
  });

  it.each([
    'waits 3d',
    'wait 3',
    'wait 4000d',
    'at 2200-01-01T00:00:00Z',
    'w',
    'phone w',
    'phone w +0 role=nurse',
    'again',
    'net w',
    'w<',
    'forge w< words',
  ])('says what was expected instead of: %s', (line) => {
    expect(readLine(line)).toMatchObject({ kind: 'bad' });
  });
});
