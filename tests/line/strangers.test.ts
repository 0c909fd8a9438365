import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Gateway, hourMs, QueueLine } from '../support/queue-line.ts';

describe('unknown senders', () => {
  let clinic: QueueLine;
  const gateway = new Gateway();

  beforeEach(async () => {
    clinic = new QueueLine();
    await clinic.open(gateway);
  });
  afterEach(() => clinic.close());

  it('share twenty answers a day, and the next day twenty more', async () => {
    for (let day = 0; day < 2; day += 1) {
      gateway.taken.length = 0;
      for (let n = 0; n < 30; n += 1) await clinic.hear(`+0005557700${String(n).padStart(2, '0')}`, 'who is this');
      await clinic.line.settle();
      expect(gateway.taken).toHaveLength(20);
      clinic.pass(24 * hourMs);
    }
  });
});
