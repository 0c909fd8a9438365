import { describe, expect, it } from 'vitest';
import { serverPrograms } from '../store/postgres-server.ts';
import { measureShared } from './postgres.ts';
import { shortVisit } from './visit.ts';

describe.skipIf(serverPrograms() === null)('several processes on one PostgreSQL database', () => {
  it('answer everybody as recorded, whichever of them a text comes in at', async () => {
    const [run] = (await measureShared(shortVisit, 4, [2], 2))!;
    expect(run).toMatchObject({ processes: 2, unanswered: 0, offScript: 0 });
    expect(run!.rate).toBeGreaterThan(0);
  }, 60_000);
});
