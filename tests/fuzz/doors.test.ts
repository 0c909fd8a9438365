import { readFileSync } from 'node:fs';
import { Readable } from 'node:stream';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readMapping } from '../../src/channels/sms/mapping-file.ts';
import { runAssess } from '../../src/cli/assess.ts';
import { readRoster } from '../../src/cli/roster-file.ts';
import { readFlow } from '../../src/content/load.ts';
import { readKeywords, readLocaleFile, readMeta } from '../../src/content/locale-file.ts';
import { readProgramme } from '../../src/content/programme.ts';
import { readQuick } from '../../src/content/quick-file.ts';
import { dataFolder, type OpenBench, openBench } from '../channels/bench/bench-fixture.ts';
import { playLines } from '../support/play.ts';
import { runs } from '../support/runs.ts';
import { shipped as content } from '../support/shipped.ts';
import { hostileText, seed } from './hostile.ts';

const file = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

/** A sound text with a piece cut out, doubled, or replaced by something hostile. */
function spoiled(sound: string): fc.Arbitrary<string> {
  return fc
    .tuple(fc.nat(sound.length), fc.nat(60), fc.oneof(fc.constant(''), hostileText, fc.string({ maxLength: 20 })))
    .map(([from, length, instead]) => sound.slice(0, from) + instead + sound.slice(from + length));
}

describe('play', () => {
  const name = fc.constantFrom('w', 'd', 'l', 'n', 'at', 'q', '__proto__');
  const line = fc.oneof(
    fc.tuple(name, hostileText).map(([who, text]) => `${who}> ${text.replace(/[\r\n]/g, ' ')}`),
    fc
      .tuple(name, fc.constantFrom('<', '<!'), fc.string({ maxLength: 30 }))
      .map(([who, sign, text]) => `${who}${sign} ${text}`),
    fc.constantFrom(
      'crash',
      'again w',
      'again q',
      'net down w',
      'net up w',
      'wait 5m',
      'wait 1h',
      'wait 2d',
      'wait',
      'at',
      'seed x',
    ),
    fc.constantFrom(
      'at 275760-09-13T00:00:00Z',
      'at 0001-01-01T00:00:00Z',
      'wait 999999d',
      'seed 999999999',
      'w< /(/',
      'w< /((a+)+)$/',
    ),
    fc.constantFrom(
      'phone w +000555010001 role=worker',
      'phone z +000555010001 role=doctor',
      'phone y +000555010009 role=worker site=__proto__',
    ),
    fc.constantFrom(
      'phone u bench:u role=lab locale=xx',
      'phone p x role=pilot',
      'forge w> SOS',
      'w@-9d> 1',
      'forge w< 1',
    ),
    fc.string({ unit: 'binary', maxLength: 80 }).map((one) => one.replace(/[\r\n]/g, ' ')),
  );

  it('answers every line, faulty ones too, with one idle line and an exit code of its own', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(line, { minLength: 10, maxLength: 30 }), async (lines) => {
        const clean = lines.map((one) => one.replace(/[\r\n\u2028\u2029\u0085]/g, ' '));
        const { code, json, printed } = await playLines([
          'phone w +000555010001 role=worker',
          'phone d +000555010002 role=doctor',
          'phone l +000555010003 role=lab',
          'phone n +000555010099',
          ...clean,
        ]);
        expect([0, 1, 2]).toContain(code);
        expect(json.filter((one) => one.idle === true)).toHaveLength(clean.length + 4);
        expect(printed).not.toMatch(/could not handle this text|step-failed|event-parked/);
      }),
      { seed, numRuns: runs(12, 200), endOnFailure: true },
    );
  });
});

describe('assess', () => {
  const sound =
    '{"id":"a","patient":{"ageYears":43,"sex":"female"},"dangerSigns":[],"nodules":[{"id":"n1","mm":[22,15,14]}]}';
  it('answers every line with one line of JSON', async () => {
    const any = fc.oneof(
      spoiled(sound),
      fc.json(),
      hostileText,
      fc.constantFrom('[[[[[[', `${'['.repeat(5000)}`, '{"__proto__":{}}'),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(any, { minLength: 1, maxLength: 40 }), async (lines) => {
        const clean = lines.map((one) => one.replace(/[\r\n]/g, ' ')).filter((one) => one.trim() !== '');
        let printed = '';
        const out = {
          write: (text: string) => {
            printed += text;
          },
        };
        const code = await runAssess([], {
          stdin: Readable.from(clean.map((one) => `${one}\n`)),
          stdout: out,
          stderr: out,
        });
        expect([0, 1]).toContain(code);
        const answers = printed.split('\n').filter((one) => one !== '');
        expect(answers).toHaveLength(clean.length);
        for (const answer of answers) expect(() => JSON.parse(answer)).not.toThrow();
      }),
      { seed, numRuns: runs(60, 2_000) },
    );
  });
});

describe('the roster file', () => {
  const header = 'name,roles,channel,address,site,locale';
  const sound = `${header}\nAda Lumo,worker,sms,+000555010042,oruma,en\n"Rune, Sela",coordinator+doctor,telegram,77,oruma,en\n`;
  it('reports what it leaves out and takes nobody with a name or address that could be read as something else', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          spoiled(sound),
          hostileText.map((text) => `${header}\n${text},worker,sms,+000555010043,oruma,en`),
          hostileText,
        ),
        (text) => {
          const { people } = readRoster(text, content, [], false);
          for (const one of people) {
            expect(one.name).not.toMatch(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u);
            expect(one.addresses[0]!.address).not.toMatch(/[\p{Cc}\s]/u);
          }
          expect(new Set(people.map((one) => JSON.stringify(one.addresses))).size).toBe(people.length);
        },
      ),
      { seed, numRuns: runs(1500, 50_000) },
    );
  });

  it.each([
    ['a line of a hundred thousand commas', `${header}\n${','.repeat(100_000)}`],
    ['a hundred thousand quotes', `${header}\n${'"'.repeat(100_000)}`],
    ['ten thousand lines', `${header}\n${'x,worker,sms,+000555010043,oruma,en\n'.repeat(10_000)}`],
    ['a file that is too large', 'x'.repeat(1_000_001)],
  ])('answers %s within two seconds, on a busy machine too', (_what, text) => {
    const from = performance.now();
    readRoster(text, content, [], false);
    expect(performance.now() - from).toBeLessThan(2000);
  });
});

describe('the mapping of a gateway', () => {
  it('is read, or what is wrong with it is said in one line, never a throw', () => {
    const sound = file('deploy/sms-mapping.example.json');
    fc.assert(
      fc.property(fc.oneof(spoiled(sound), hostileText, fc.json()), (text) => {
        const read = readMapping(text);
        if (!read.ok) expect(read.fault).toMatch(/^.+$/);
        else expect(read.value.inbound.from.length).toBeGreaterThan(0);
      }),
      { seed, numRuns: 300 },
    );
  });
});

describe('flows, texts and the programme file', () => {
  it.each([
    ['a flow', (text: string) => readFlow('sos', 'flows/sos.yaml', text), 'flows/sos.yaml'],
    ['a flow of many asks', (text: string) => readFlow('new', 'flows/new.yaml', text), 'flows/new.yaml'],
    ['the programme', (text: string) => readProgramme('flows/programme.yaml', text), 'flows/programme.yaml'],
    [
      'texts',
      (text: string) => readLocaleFile('en', 'doctor', 'locales/en/doctor.json', text),
      'locales/en/doctor.json',
    ],
    ['keywords', (text: string) => readKeywords('locales/en/keywords.json', text), 'locales/en/keywords.json'],
    ['a language', (text: string) => readMeta('locales/en/meta.json', text), 'locales/en/meta.json'],
    ['trade words', (text: string) => readQuick('locales/en/quick.json', text), 'locales/en/quick.json'],
  ] as const)('%s: problems with file and line, never a throw', (_what, read, path) => {
    fc.assert(
      fc.property(fc.oneof(spoiled(file(path)), hostileText, fc.json()), (text) => {
        const { problems } = read(text);
        for (const one of problems) {
          expect(one.line).toBeGreaterThanOrEqual(1);
          expect(one.file).toContain(path);
        }
      }),
      { seed, numRuns: runs(120, 5_000) },
    );
  });

  it.each([
    [
      'aliases that multiply',
      `a: &a [x,x]\n${Array.from({ length: 30 }, (_, n) => `b${n}: &b${n} [*a, *a]`).join('\n')}`,
    ],
    ['deep brackets', '['.repeat(20_000)],
    ['deep indentation', Array.from({ length: 2000 }, (_, n) => `${' '.repeat(n)}a:`).join('\n')],
    ['a key of prototypes', '__proto__: { polluted: true }\nconstructor: { prototype: { polluted: true } }'],
  ])('%s are refused, not followed', (_what, text) => {
    for (const read of [() => readFlow('sos', 'f', text), () => readProgramme('f', text)]) {
      expect(read().problems.length).toBeGreaterThan(0);
    }
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

describe('the page of simulated phones', () => {
  const folder = dataFolder();
  let bench: OpenBench;
  beforeAll(async () => {
    bench = await openBench(folder.path);
  });
  afterAll(async () => {
    await bench.close();
    folder.remove();
  });

  it('answers any request, and takes only a text, a net switch or a clock from a phone it knows how to name', async () => {
    const path = fc.constantFrom(
      '/send',
      '/net',
      '/clock',
      '/reset',
      '/state',
      '/health',
      '/',
      '/..%2f',
      '/__proto__',
      '/send?x=1',
      '/%00',
    );
    const method = fc.constantFrom('GET', 'POST', 'PUT', 'DELETE', 'OPTIONS');
    const body = fc.oneof(
      hostileText,
      fc.json(),
      hostileText.map((text) => JSON.stringify({ address: 'bench:worker', text })),
      hostileText.map((text) => JSON.stringify({ address: text, text: 'NEW', on: text })),
      fc.constantFrom(
        '{"ms":-1}',
        '{"ms":1e300}',
        '{"ms":"1"}',
        '{"next":1}',
        '{"address":"__proto__","text":"NEW"}',
        'x'.repeat(70_000),
      ),
    );
    const type = fc.constantFrom('application/json', 'text/plain', 'application/json; charset=utf-16', '');
    await fc.assert(
      fc.asyncProperty(method, path, body, type, async (how, where, what, kind) => {
        const headers = { 'content-type': kind, 'content-length': String(Buffer.byteLength(what)) };
        const { status } = await bench.call(how, where, headers, what);
        expect([200, 204, 400, 403, 404, 405, 409, 413, 415]).toContain(status);
      }),
      { seed, numRuns: runs(250, 10_000) },
    );
    await bench.line.settle();
    expect(await bench.store.parked()).toEqual([]);
  });
});
