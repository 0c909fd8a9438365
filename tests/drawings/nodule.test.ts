import { Resvg } from '@resvg/resvg-js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingsChoices, type Nodule } from '../../src/clinical/findings.ts';
import { noduleSvg, viewOfAll } from '../../src/drawings/nodule.ts';
import { view } from '../../src/drawings/sonogram/frame.ts';
import { echoGrey, tissue } from '../../src/drawings/sonogram/greys.ts';
import { everyLook, known, overflowing, sceneOf, words } from './drawn.ts';

const marks = (svg: string): number => svg.split('>?</text>').length - 1;
const unknownToo = <T extends string>(all: readonly T[]) => fc.constantFrom<T | 'unknown'>(...all, 'unknown');
const truth = fc.constantFrom(true, false, 'unknown' as const);
const millimetres = fc.integer({ min: 1, max: 2000 }).map((tenths) => tenths / 10);

/** Any lump that somebody may tell of, however odd. */
const anyLump: fc.Arbitrary<Nodule> = fc.record(
  {
    mm: fc.array(millimetres, { minLength: 1, maxLength: 3 }),
    mmRange: fc.tuple(millimetres, millimetres).map((two) => two.sort((a, b) => a - b)),
    composition: unknownToo(findingsChoices.composition),
    spongiformWhole: truth,
    solidPartMm: fc.oneof(millimetres, fc.constant('unknown' as const)),
    eccentric: truth,
    echogenicity: unknownToo(findingsChoices.echogenicity),
    hypoechoicPart: truth,
    shape: unknownToo(findingsChoices.shape),
    margin: unknownToo(findingsChoices.margin),
    capsule: unknownToo(findingsChoices.capsule),
    foci: fc.subarray([...findingsChoices.foci, 'unknown' as const]),
  },
  { requiredKeys: [] },
);

describe('a lump drawn from what was told', () => {
  it('no two looks that a table tells apart are drawn alike', () => {
    const all = [...everyLook()];
    expect(all).toHaveLength(7 * 6 * 2 * 3 * 12);
    expect(new Set(all.map((looks) => sceneOf(looks))).size).toBe(all.length);
  });

  const looks = ['composition', 'echogenicity', 'shape', 'margin', 'capsule'] as const;
  it.each(looks)('every answer about its %s is drawn otherwise, and not known is none of them', (field) => {
    fc.assert(
      fc.property(anyLump, (lump) => {
        const base: Nodule = { ...lump, mm: [22, 15, 14], solidPartMm: 11 };
        delete base.mmRange;
        // All of a lump hidden by calcium, or black in black, is hidden: its own answers are those of the others.
        const options = [...findingsChoices[field], 'unknown'];
        const drawn = options.map((value) => sceneOf({ ...base, [field]: value }));
        expect(new Set(drawn).size).toBe(options.length);
      }),
      { numRuns: 25 },
    );
  });

  it('each kind of bright spot is drawn, alone and beside the others', () => {
    const sets = fc.subarray([...findingsChoices.foci, 'unknown' as const]);
    // A broken rim is a rim.
    const seen = (foci: readonly string[]) =>
      foci
        .filter((one) => one !== 'rim-calcification' || !foci.includes('rim-extrusion'))
        .sort()
        .join();
    fc.assert(
      fc.property(sets, sets, (one, other) => {
        const [a, b] = [one, other].map((foci) => sceneOf({ ...known, foci }));
        expect(a === b).toBe(seen(one) === seen(other));
      }),
      { numRuns: 100 },
    );
  });

  it.each([
    ['spongiformWhole', 'spongiform'],
    ['eccentric', 'mixed'],
    ['hypoechoicPart', 'solid'],
  ] as const)('%s of a %s lump has three drawings: yes, no, not known', (field, composition) => {
    const drawn = [true, false, 'unknown'].map((value) => sceneOf({ ...known, composition, [field]: value }));
    expect(new Set(drawn).size).toBe(3);
  });

  it('what nobody knows has a question mark, in the picture and before its words', () => {
    expect(marks(noduleSvg(known, words))).toBe(0);
    for (const field of ['composition', 'shape', 'margin', 'capsule', 'foci'] as const) {
      const { [field]: _, ...rest } = known;
      const svg = noduleSvg(rest, words, { id: 'x' });
      expect([field, marks(sceneOf(rest))]).toEqual([field, 1]);
      expect([field, marks(svg)]).toEqual([field, 2]);
      expect(svg).toContain('>not known</text>');
    }
  });

  it('a grey that nobody knows is striped, and no grey of any answer', () => {
    const { echogenicity: _, ...rest } = known;
    expect(sceneOf(rest)).toContain('fill="url(#xu)"');
    expect(sceneOf(known)).not.toContain('fill="url(#xu)"');
  });

  it('of a lump that nobody looked at nothing is drawn as though it were so', () => {
    const svg = noduleSvg({}, words, { id: 'x' });
    expect(svg.match(/>not known<\/text>/gu)).toHaveLength(7);
    for (const grey of Object.values(echoGrey))
      if (grey !== tissue.thyroid) expect(svg).not.toContain(`fill="${grey}"`);
    // Two question marks are its sizes: there is no ruler where nothing was measured.
    expect(svg).not.toMatch(/\d mm</u);
  });

  it('is to scale: diameters in the view are the millimetres that were told', () => {
    fc.assert(
      fc.property(fc.tuple(millimetres, millimetres, millimetres), (mm) => {
        const viewMm = viewOfAll([{ ...known, mm }])!;
        const [, across, down] = /<path id="xo" d="M[-\d.]+ [-\d.]+a([\d.]+) ([\d.]+) /u.exec(
          sceneOf({ ...known, mm }),
        )!;
        const perMm = view.width / viewMm;
        expect((Number(across) * 2) / perMm).toBeCloseTo(Math.max(...mm), 0);
        expect((Number(down) * 2) / perMm).toBeCloseTo(Math.min(...mm), 0);
      }),
      { numRuns: 100 },
    );
  });

  it('an edge of any kind reaches as far as the lump was measured', () => {
    for (const margin of ['lobulated', 'irregular', 'spiculated'] as const) {
      const path = /<path id="xo" d="M([^"]+)Z"/u.exec(sceneOf({ ...known, margin }, 60))![1]!;
      const xs = path.split('L').map((point) => Number(point.split(' ')[0]));
      expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo((22 * view.width) / 60, 0);
    }
  });

  it('darker is drawn darker, beside the thyroid and the muscle it is told by', () => {
    const order = [
      ...[echoGrey.hyperechoic, echoGrey.isoechoic, echoGrey.hypoechoic],
      ...[tissue.muscle, echoGrey['very-hypoechoic'], echoGrey.anechoic],
    ];
    expect([...order].sort().reverse()).toEqual(order);
    expect(echoGrey.isoechoic).toBe(tissue.thyroid);
  });

  it('whatever was told, it is well-formed, under 12 kB, and no word stands out of it', () => {
    fc.assert(
      fc.property(anyLump, (lump) => {
        const svg = noduleSvg(lump, words);
        expect(() => new Resvg(svg, { font: { loadSystemFonts: false } })).not.toThrow();
        expect(Buffer.byteLength(svg)).toBeLessThan(12_000);
        expect(overflowing(svg)).toEqual([]);
        expect(svg).not.toMatch(/NaN|undefined|Infinity|picture-/u);
      }),
      { numRuns: 80 },
    );
  });

  it('is under 12 kB also where all that can shine does, at any size', () => {
    const all = [...findingsChoices.foci, 'unknown' as const];
    const drawn = Array.from({ length: 120 }, (_, at) => at + 1).flatMap((most) =>
      (['lobulated', 'irregular', 'spiculated'] as const).map((margin) =>
        noduleSvg(
          { mmRange: [0.1, most], composition: 'spongiform', echogenicity: 'anechoic', margin, foci: all },
          words,
        ),
      ),
    );
    expect(Math.max(...drawn.map((svg) => Buffer.byteLength(svg)))).toBeLessThan(12_000);
  });

  it('a text that is too wide is seen', () => {
    const wide = { ...words, 'picture-muscle': 'the muscles in front of the thyroid' };
    expect(overflowing(noduleSvg(known, wide))).toEqual(['the muscles in front of the thyroid']);
  });

  it('says the same in its description as under the picture', () => {
    const svg = noduleSvg({ ...known, margin: 'unknown' }, words, { id: 'x' });
    expect(svg).toMatch(/^<svg [^>]*role="img" aria-labelledby="xt xd"/u);
    const description = /<desc id="xd">([^<]+)</u.exec(svg)![1]!;
    expect(description).toContain('Size: 22 x 15 x 14 mm. Inside: solid. Grey: grey as the thyroid');
    expect(description).toContain('Edge: not known');
  });

  it('two lumps in one page share no name of a part', () => {
    const ids = (svg: string) => [...svg.matchAll(/ id="([^"]+)"/gu)].map((found) => found[1]);
    const all = [...ids(noduleSvg(known, words)), ...ids(noduleSvg({ ...known, mm: [9] }, words))];
    expect(new Set(all).size).toBe(all.length);
  });
});
