import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { textsHash } from '../../../src/cli/readers.ts';
import { isNamed } from '../../../src/cli/ready/signer.ts';
import { standingOf, unsignedOf } from '../../../src/cli/ready/to-sign.ts';
import { tableRows } from '../../../src/content/markdown-table.ts';
import { signOffsOf } from '../../../src/content/sign-offs.ts';
import { signOffs } from '../../../src/generated/sign-offs.ts';
import { shipped } from '../../support/shipped.ts';

const read = (path: string): string => readFileSync(new URL(`../../../${path}`, import.meta.url), 'utf8');
const papers = {
  programme: read('flows/programme.yaml'),
  numbers: read('deploy/clinical-numbers.md'),
  hazards: read('deploy/hazards.md'),
};

describe('what a clinician has to sign', () => {
  it('is what the papers mark today (npm run sign-offs)', () => {
    expect(signOffs).toEqual(signOffsOf(papers));
  });

  it('is every convention of the programme and of the list of numbers, and every hazard marked S', () => {
    const ids = signOffs.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const rows = tableRows(papers.numbers).filter((row) => /our convention/i.test(row.Source ?? ''));
    expect(signOffs.filter(({ kind }) => kind === 'number')).toHaveLength(
      rows.filter((row) => row.File !== 'flows/programme.yaml').length,
    );
    const marked = papers.programme
      .split('\n')
      .filter((line) => /^ {2}[a-z-]+: \d.*#/.test(line) && /convention/i.test(line.replace(/line convention/gi, '')));
    expect(marked.length).toBeGreaterThan(35);
    for (const line of marked)
      expect(
        ids.some((id) => id.endsWith(`.${line.trim().split(':')[0]}`)),
        line,
      ).toBe(true);
    for (const name of ['now', 'waiting', 'today', 'question', 'this-week', 'routine'])
      expect(ids).toContain(`urgencies.${name}`);
    expect(ids).toEqual(expect.arrayContaining(['inr', 'laboratories.slides', 'H01', 'H05', 'H51', 'H97']));
    expect(ids).not.toContain('H02');
    expect(ids.filter((id) => /texts-a-day|stock|guess/.test(id))).toEqual([]);
  });

  it('is refused where the list of numbers calls a convention what the programme does not', () => {
    const programme = papers.programme.replace(/watch-short: 30m #.*/, 'watch-short: 30m # published');
    expect(() => signOffsOf({ ...papers, programme })).toThrow(/watch-short/);
  });
});

describe('a signature', () => {
  const sign = (id: string, content = shipped) => {
    const one = standingOf(content, []).find((each) => each.id === id)!;
    return { item: id, hash: one.hash, at: 5, who: 'Dr Tano, physician' };
  };
  const passes = {
    ...shipped,
    programme: { ...shipped.programme, limits: { ...shipped.programme.limits, passes: 4 } },
  };
  const standsOf = (content: typeof shipped, id: string, ...signed: readonly ReturnType<typeof sign>[]) =>
    standingOf(content, signed).find((one) => one.id === id)!;

  it('is of the value in the programme in use', () => {
    expect(standsOf(passes, 'limits.passes').value).toBe('4');
    expect(standsOf(shipped, 'urgencies.today').value).toBe('4h, 8h, 1d, climbs by day only');
    expect(standsOf(shipped, 'laboratories.slides').value).toBe('velin 4, mora 4');
  });

  it('lapses when the value changes, and holds again when it is put back', () => {
    const signed = sign('limits.passes');
    expect(standsOf(shipped, 'limits.passes', signed)).toMatchObject({ signed: { at: 5 }, lapsed: null });
    expect(standsOf(passes, 'limits.passes', signed)).toMatchObject({
      signed: null,
      lapsed: { who: 'Dr Tano, physician' },
    });
    const later = sign('limits.passes', passes);
    expect(standsOf(passes, 'limits.passes', signed, later).signed).not.toBeNull();
    expect(standsOf(shipped, 'limits.passes', signed, later).signed).not.toBeNull();
  });

  it('of one thing is none of another', () => {
    const { hash, ...rest } = sign('H01');
    expect(standsOf(shipped, 'H05', { ...rest, hash, item: 'H05' }).signed).toBeNull();
  });

  it('of a language lapses when one of its texts changes', () => {
    const english = shipped.sources.locales.find(({ tag }) => tag === 'en');
    const signed = sign('languages.en');
    const [file, ...files] = english!.files;
    const changed = {
      ...file!,
      texts: new Map([...file!.texts].map(([key, text], place) => [key, place === 0 ? `${text}!` : text])),
    };
    const sources = { ...shipped.sources, locales: [{ ...english!, files: [changed, ...files] }] };
    expect(standsOf(shipped, 'languages.en', signed).signed).not.toBeNull();
    expect(standsOf({ ...shipped, sources }, 'languages.en', signed).lapsed).not.toBeNull();
  });

  it('is not needed for a language whose reader the package names', () => {
    const english = shipped.sources.locales.find(({ tag }) => tag === 'en');
    const texts = textsHash(english!);
    const meta = { ...english!.meta!, reviewedBy: 'Mila Oru, nurse', reviewedOn: '2030-01-05', reviewedTexts: texts };
    const sources = { ...shipped.sources, locales: [{ ...english!, meta }] };
    const nobody = { signatures: [], roster: [] };
    expect(unsignedOf({ ...shipped, sources }, nobody).languages).toEqual([]);
    expect(unsignedOf(shipped, nobody)).toEqual({
      conventions: signOffs.length,
      languages: ['English'],
    });
  });

  it.each([
    ['Dr Tano, physician of the district', true],
    ['Dr Tano', false],
    ['Dr Tano,', false],
    [', physician', false],
    ['Dr Tano, physician\nsigned', false],
  ])('by %j is one: %s', (who, wanted) => {
    expect(isNamed(who)).toBe(wanted);
  });
});
