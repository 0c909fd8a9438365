/**
 * A line in a process of its own, to be killed or starved by a test:
 * `line-process.ts <file> <commits or 0 for ever>` prints the id and outcome of each commit.
 */
import { writeSync } from 'node:fs';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { change, message, person } from '../contract/store-samples.ts';

const [file, count] = process.argv.slice(2);
const most = Number(count) || Number.POSITIVE_INFINITY;
const store = await openStore({ url: `sqlite:${file}`, keys: keyRingOf(Buffer.alloc(32, 7)) });
await store.putPeople([person('w1')]);
writeSync(1, 'ready\n');
for (let turn = 0; turn < most; turn += 1) {
  const ids = [`a${turn}`, `b${turn}`];
  const outcomes = await store.commit(
    ids.map((id) => change(id, { outbox: [message(`${id}:0`, 'w1', { text: 'x'.repeat(2_000) })] })),
  );
  writeSync(1, `${ids.map((id, index) => `${id} ${outcomes[index]}`).join('\n')}\n`);
}
const left = await store.messages({ personId: 'w1' });
writeSync(1, `left ${left.length}\n`);
await store.close();
