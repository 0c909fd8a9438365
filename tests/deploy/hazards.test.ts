import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { playFile } from '../support/play.ts';
import { faultOf, proofsOf } from '../support/proofs.ts';
import { tableRows } from '../support/tables.ts';

const root = new URL('../../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');
const log = read('deploy/hazards.md');
const rows = tableRows(log);
const severities = ['catastrophic', 'major', 'moderate', 'minor'];
/** Least likely first. */
const likelihoods = ['improbable', 'remote', 'occasional', 'probable', 'frequent'];
const named = rows.map((row) => [`${row['No.']} ${row.Hazard}`, row] as const);

describe('the hazard log', () => {
  it('is numbered without a gap', () => {
    expect(rows.length).toBeGreaterThan(50);
    expect(rows.map((row) => row['No.'])).toEqual(rows.map((_, place) => `H${String(place + 1).padStart(2, '0')}`));
    expect(new Set(rows.map((row) => row.Hazard)).size).toBe(rows.length);
  });

  it.each(named)('%s: is complete, and no likelier after its control than before', (_hazard, row) => {
    expect(Object.values(row).filter((cell) => cell.length < 2)).toEqual([]);
    expect(Object.keys(row)).toHaveLength(10);
    expect(severities).toContain(row.Severity);
    const [before, after] = [likelihoods.indexOf(row.Before ?? ''), likelihoods.indexOf(row.After ?? '')];
    expect(after).toBeGreaterThanOrEqual(0);
    expect(after).toBeLessThanOrEqual(before);
    if (after === before) expect(row.Remains).toMatch(/OPEN|lessens the harm/);
  });

  it.each(named)('%s: each proof is a test by its title, or a play that expects something', (_hazard, row) => {
    expect(proofsOf(row.Proof!).flatMap((proof) => faultOf(proof) ?? [])).toEqual([]);
  });

  it('leaves no catastrophe likelier than occasional after its control', () => {
    const worst = rows.filter((row) => row.Severity === 'catastrophic');
    expect(worst.filter((row) => likelihoods.indexOf(row.After ?? '') > 2).map((row) => row['No.'])).toEqual([]);
  });

  it('uses every play of the laboratory, the doctor and first aid as a proof', () => {
    const used = new Set(rows.flatMap((row) => proofsOf(row.Proof!).map(({ path }) => path)));
    const plays = readdirSync(new URL('tests/conversations/', root)).filter((name) => name.endsWith('.play'));
    const safety = plays.filter((name) => /^(sos|silence|forged|wrong|doctor|thy|outcome|stop|late|bad)-?/.test(name));
    expect(safety.filter((name) => !used.has(`tests/conversations/${name}`))).toEqual([]);
  });

  it('says what a clinician has to sign and that nobody has', () => {
    expect(log).toContain('no\nclinician has signed it yet');
    expect(rows.filter((row) => /\bS\b/.test(row.Remains ?? '')).length).toBeGreaterThan(10);
  });
});

/** Texts of a play to one phone, without the answers to CASE, which shows a whole case to whoever asks for it. */
async function textsTo(phone: string, script: string): Promise<readonly string[]> {
  const file = fileURLToPath(new URL(`tests/conversations/${script}.play`, root));
  const { printed } = await playFile(file, ['--json']);
  const messages = printed
    .split('\n')
    .filter((line) => line.startsWith('{"at"'))
    .map((line) => JSON.parse(line) as { phone: string; dir: string; text: string });
  const until = messages.findIndex((one) => one.dir === 'in' && one.text.startsWith('CASE'));
  return messages
    .slice(0, until < 0 ? undefined : until)
    .filter((one) => one.phone === phone && one.dir === 'out')
    .map((one) => one.text);
}

describe('what the lock screen of a phone shows of a result', () => {
  it.each([
    'thy1',
    'thy1c',
    'thy2',
    'thy2-on-tr5',
    'thy3a',
    'thy3f',
    'thy4',
    'thy5',
    'tir',
    'bethesda',
    'amended-result',
  ])('%s: the worker gets no category, and no word of the finding in the first 40 letters', async (script) => {
    // The questions before the needle may name what they ask for.
    const all = await textsTo('w', script);
    const texts = all.slice(all.findIndex((text) => text.includes('POSTED')));
    expect(texts.some((text) => /\bRESULT(?::| of the )/.test(text))).toBe(true);
    for (const text of texts) {
      expect(text).not.toMatch(/\b(Thy ?[1-5]|TIR ?[1-5]|Bethesda)/i);
      expect(text.slice(0, 40)).not.toMatch(/cancer|malignan|benign|suspicious|follicular|atypia/i);
    }
  });
});
