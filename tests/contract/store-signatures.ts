import { describe, expect, it } from 'vitest';
import type { Given } from './given.ts';
import { morning, programmeId } from './store-samples.ts';

const signed = { item: 'limits.passes', hash: 'hash-of-3', at: morning, who: 'Dr Tano, physician' };

/** What every engine promises of signatures: kept for good, in order, and changed by nobody. */
export function signaturesContract(given: Given): void {
  describe('signatures', () => {
    it('are kept in their order, by programme, over a crash', async () => {
      const again = { ...signed, hash: 'hash-of-4', at: morning + 1 };
      await given.store().sign(programmeId, [signed, { ...signed, item: 'H01' }]);
      await given.store().sign(programmeId, [again]);
      await given.store().sign('another', [signed]);
      await given.reopen();
      expect(await given.store().signatures(programmeId)).toEqual([signed, { ...signed, item: 'H01' }, again]);
      expect(await given.store().signatures('another')).toEqual([signed]);
      expect((await given.store().audit()).faults).toEqual([]);
    });

    it.each([
      ['another value', "update signatures set hash = 'hash-of-9'"],
      ['another thing', "update signatures set item = 'H05'"],
      ['another day', 'update signatures set at = at + 1'],
      ['another programme', "update signatures set programme_id = 'another'"],
    ])('one that was moved to %s counts no more, and the audit names it', async (_what, change) => {
      await given.store().sign(programmeId, [signed]);
      await given.database().tamper(change);
      await given.reopen();
      expect([
        ...(await given.store().signatures(programmeId)),
        ...(await given.store().signatures('another')),
      ]).toEqual([]);
      expect((await given.store().audit()).faults.join()).toMatch(/signature 1 of \S+: does not open/);
    });
  });
}
