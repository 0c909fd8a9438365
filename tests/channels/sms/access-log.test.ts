import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { accessLogReader, patternFault } from '../../../src/channels/sms/access-log.ts';
import { kannel } from '../../../src/channels/sms/kannel.ts';
import { readMapping } from '../../../src/channels/sms/mapping-file.ts';

/** As Kannel 1.4.5 wrote them with the shipped format, on a machine whose own clock shows another zone. */
const received =
  '2026-11-25 20:03:33 2026-11-25 17:03:33 Receive SMS [SMSC:link1] [id:aa84beee-060f-434e-9880-cc31802d40ce] [from:+000555010001] [to:1234] [len:12]';
const read = accessLogReader(kannel.accessLog!, ['+000555']);

describe("the gateway's log of texts that came in", () => {
  it('gives the id of the call, the sender as the roster has it, and the time of the network in UTC', () => {
    expect(read(received)).toEqual({
      key: 'sms:aa84beee-060f-434e-9880-cc31802d40ce',
      from: '+000555010001',
      at: Date.UTC(2026, 10, 25, 17, 3, 33),
      twin: `+000555010001\n${Date.UTC(2026, 10, 25, 17, 3, 33)}\n12`,
    });
    const dropped = received.replace('Receive SMS', 'DROPPED Received SMS').replace('+000', '000');
    expect(read(dropped)?.from).toBe('+000555010001');
  });

  it.each([
    ['the beginning of a log', '2026-11-25 17:02:40 Log begins'],
    ['a text that went out', received.replace('Receive SMS', 'Sent SMS')],
    ['a report', received.replace('Receive SMS', 'DLR SMS')],
    ['half a line', received.slice(0, 90)],
    ['no sender', received.replace('+000555010001', '')],
    ['a sender with brackets of its own', received.replace('+000555010001', 'X] [to:1] [len:1] [from:+000555010001')],
    ['a sender of any length', received.replace('+000555010001', '9'.repeat(61))],
    ['an id of any length', received.replace('aa84beee', 'a'.repeat(200))],
    ['a day that is none', received.replace('2026-11-25 17:', '2026-99-25 17:')],
    ['nothing', ''],
    ['signs that are no text', '\u0000\ufffd\u202e[id:x] Receive SMS'],
  ])('takes %s for no text that came in', (_what, line) => {
    const text = read(line);
    // A sender's own brackets end the sender there; it never becomes somebody else.
    expect(text === null || text.from === 'X').toBe(true);
  });

  it('is read by the mapping of another gateway too, and the example shows how', () => {
    const example = readFileSync(new URL('../../../deploy/sms-mapping.example.json', import.meta.url), 'utf8');
    const mapping = readMapping(example);
    if (!mapping.ok) throw new Error(mapping.fault);
    const other = accessLogReader(mapping.value.accessLog!, ['+000555']);
    expect(other('1795626166 received m-1 from +000555010001 size 12')).toMatchObject({
      key: 'sms:m-1',
      at: 1795626166000,
    });
    const { accessLog: _none, ...without } = JSON.parse(example) as Record<string, unknown>;
    expect(readMapping(JSON.stringify(without))).toMatchObject({ ok: true, value: { accessLog: null } });
    const bad = readMapping(JSON.stringify({ ...without, accessLog: { line: '(?<id>.*)', time: 'seconds' } }));
    expect(bad).toEqual({ ok: false, fault: 'accessLog.line: expected a group named time, from' });
    expect(patternFault('(?<time>')).toBe('expected a regular expression');
  });

  it.each([
    ['written', '2030-03-04T08:00:00Z'],
    ['written', '2030-03-04 11:00:00.5+03:00'],
    ['seconds', '1898841600'],
    ['milliseconds', '1898841600000'],
  ] as const)('reads %s time, %s', (time, shown) => {
    const any = accessLogReader({ line: '(?<time>.*) (?<id>\\w+) (?<from>\\S+)$', time }, ['+000555']);
    expect(Math.floor(any(`${shown} a +000555010001`)!.at / 1000)).toBe(1_898_841_600);
  });

  it('of the second gateway names its texts by its own keys', () => {
    const any = accessLogReader({ line: '(?<time>.*) (?<id>\\w+) (?<from>\\S+)$', time: 'seconds' }, [], null, 'sms2');
    expect(any('1898841600 a +000555010001')?.key).toBe('sms2:a');
  });
});
