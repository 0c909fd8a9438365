import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Script } from './baseline.ts';
import { durableFile } from './durable-file.ts';
import { openGrammy } from './grammy-baseline.ts';
import { contestants, measureHandled } from './handled.ts';
import { countDatabaseUse, measureParts } from './parts.ts';
import { recordQuestions } from './questions.ts';
import { initialsOf, longVisit, shortVisit } from './visit.ts';
import { WholeLine } from './whole-line.ts';
import { openXstate } from './xstate-baseline.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-bench-test-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const visits = [
  { name: '12', visit: shortVisit },
  { name: '40', visit: longVisit },
];

describe.each(visits)('the bench with $name questions', ({ visit }) => {
  it('asks that many questions of the shipped flow, keeps every text and closes the case', async () => {
    const line = await WholeLine.open(folder, visit, 2);
    const visits = [await line.visitOf(0, visit.questions), await line.visitOf(0, visit.questions)];
    const { store, options } = line.line;
    const texts = await store.messages({ personId: 'w0' });
    const came = texts.filter((one) => one.direction === 'in').map((one) => one.text);
    expect(came).toEqual(visits.flat().map((one) => one.text));
    expect(came).toHaveLength(2 * (visit.questions + 1));
    // Read back once, and again after each thing that was put right.
    const questions = await recordQuestions(visit);
    expect(questions.filter((one) => /^CHECK /.test(one.text))).toHaveLength(visit.putRight.length + 1);
    for (const patient of [0, 2]) {
      const key = { siteId: 'clinic0', initials: initialsOf(patient), sex: 'female' };
      const cases = await store.casesAlike(options.content.programme.id, key);
      expect(cases.map((one) => one.value.status)).toEqual(['closed']);
    }
    await line.close();
  });

  it.each([
    { name: "grammY's conversations", open: openGrammy },
    { name: "XState's transition", open: openXstate },
  ])('asks the same of $name, which keeps the answers when it dies half way', async ({ open }) => {
    const questions = await recordQuestions(visit);
    expect(questions).toHaveLength(visit.questions);
    const [file, script] = [join(folder, 'kept.db'), new Script(questions)];
    const half = Math.floor(visit.questions / 2);
    const before = open(file, questions, script);
    for (let text = 0; text < half; text += 1) await before.handle([0, 1]);
    expect(before.answersOf(0)).toEqual([]);
    await before.close();
    const after = open(file, questions, script);
    for (let text = half; text < visit.questions; text += 1) await after.handle([0, 1]);
    expect(after.answersOf(0)).toEqual([]);
    await after.handle([0]);
    expect(after.answersOf(0)).toEqual([questions.map((one) => one.answer)]);
    expect(after.answersOf(1)).toEqual([]);
    await after.close();
  });
});

describe('a baseline', () => {
  it('commits as durably as the line does', () => {
    const db = durableFile(join(folder, 'file.db'));
    const full = 2;
    expect(db.pragma('synchronous', { simple: true })).toBe(full);
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
    db.close();
  });

  it.each([
    { name: "grammY's conversations", open: openGrammy },
    { name: "XState's transition", open: openXstate },
  ])('that asks something else than was recorded is refused: $name', async ({ open }) => {
    const questions = await recordQuestions(shortVisit);
    const others = questions.map((one, place) => (place === 1 ? { ...one, text: 'Something else?' } : one));
    const other = open(join(folder, 'other.db'), others, new Script(questions));
    await other.handle([0]);
    await expect(other.handle([0])).rejects.toThrow(/Something else\?/);
    await other.close();
  });
});

describe('handled texts', () => {
  it('are measured for everybody, alone and together, in rates, times and processor time', async () => {
    const found = await measureHandled(shortVisit, { people: 3, rounds: 2, warmRounds: 0, visitsAlone: 1 });
    expect(found.texts).toEqual({ alone: 13, together: 39 });
    for (const name of contestants) {
      for (const rounds of [found.alone[name], found.together[name]]) {
        for (const { median, least, most } of [rounds.rate, rounds.rateSent, rounds.p50Ms, rounds.p99Ms]) {
          expect(least).toBeGreaterThan(0);
          expect(median).toBeGreaterThanOrEqual(least);
          expect(most).toBeGreaterThanOrEqual(median);
        }
        expect(rounds.cpuMs.median).toBeGreaterThan(0);
        expect(rounds.rateSent.median).toBeLessThanOrEqual(rounds.rate.median);
      }
    }
  });

  it('have parts that together are less than the whole', async () => {
    const { alone, together } = await measureParts(shortVisit, 3, 1);
    for (const { whole, load, commit, send } of [alone, together]) {
      for (const part of [load, commit, send]) expect(part).toBeGreaterThan(0);
      // The step is what is left.
      expect(load + commit).toBeLessThan(whole);
    }
  });

  it('cost the line one commit alone and less than one together; baselines one each', async () => {
    const uses = await countDatabaseUse(shortVisit, 4);
    expect(uses.line.alone.commits).toBe(1);
    expect(uses.line.together.commits).toBeCloseTo(1 / 4, 6);
    expect(uses.line.alone.statements).toBeGreaterThan(5);
    expect(uses.line.alone.statementsSent).toBeGreaterThan(0);
    for (const name of ['grammy', 'xstate'] as const) {
      const { statements, commits } = uses[name].alone;
      expect(commits).toBe(1);
      // Reads its state and writes it; once a visit, the answers.
      expect(statements).toBeCloseTo(2 + 1 / 13, 6);
      expect(uses[name].together.commits).toBe(1);
    }
  });
});
