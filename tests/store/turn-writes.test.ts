import { describe, expect, it } from 'vitest';
import type { Ended } from '../../src/store/dialects/dialect.ts';
import type { Steps } from '../../src/store/statement.ts';
import { type Piece, turnWritesOn } from '../../src/store/turn-writes.ts';

/** Runs pieces without a database, and notes what shared a commit. */
function noted() {
  const commits: (readonly (Ended | Error)[])[] = [];
  const ran: string[] = [];
  const writes = turnWritesOn(async (pieces) => {
    const ends = pieces.map((piece) => {
      try {
        return piece().next().value as Ended;
      } catch (thrown) {
        return thrown as Error;
      }
    });
    commits.push(ends);
    return ends;
  });
  const named = (name: string, ended: Ended | Error = 'committed'): Piece =>
    // biome-ignore lint/correctness/useYield: ends without a statement
    function* (): Steps<Ended> {
      ran.push(name);
      if (ended instanceof Error) throw ended;
      return ended;
    };
  return { commits, ran, writes, named };
}

describe('what is written in one turn of the loop', () => {
  it('is one commit, and the next turn is another', async () => {
    const { commits, writes, named } = noted();
    await Promise.all(['a', 'b', 'c'].map((name) => writes.write([named(name)])));
    expect(commits).toHaveLength(1);
    await writes.write([named('d')]);
    expect(commits).toHaveLength(2);
  });

  it('is joined by what others bring in the same turn, out of their own callbacks', async () => {
    const { commits, writes, named } = noted();
    const first = writes.write([named('a')]);
    await Promise.resolve().then(() => Promise.resolve());
    await Promise.all([first, writes.write([named('b')])]);
    expect(commits).toHaveLength(1);
  });

  it('is written before what looks for it, whoever came first', async () => {
    const { ran, writes, named } = noted();
    await Promise.all([writes.write([named('claim')], true), writes.write([named('text')])]);
    expect(ran).toEqual(['text', 'claim']);
  });

  it('is durable to whoever wrote it before it is found by who looks for it', async () => {
    const { writes, named } = noted();
    const heard: string[] = [];
    await Promise.all([
      writes.write([named('claim')], true).then(() => heard.push('claim')),
      writes.write([named('text')]).then(async () => {
        for (let hop = 0; hop < 20; hop += 1) await Promise.resolve();
        heard.push('text');
      }),
    ]);
    expect(heard).toEqual(['text', 'claim']);
  });

  it('answers each with its own ends, an error too', async () => {
    const { writes, named } = noted();
    const [one, other] = await Promise.all([
      writes.write([named('a'), named('b', 'conflict')]),
      writes.write([named('c', new Error('no'))]),
    ]);
    expect(one).toEqual(['committed', 'conflict']);
    expect(other).toEqual([new Error('no')]);
  });

  it('is waited for by who wants to close', async () => {
    const { commits, writes, named } = noted();
    void writes.write([named('a')]);
    await writes.idle();
    expect(commits).toHaveLength(1);
  });
});
