/** `npm run bench`: ratios against baselines measured in the same run, as tables for the README. */
import { measureHandledMessage } from './handled-message.ts';
import { manyPeople, measureStarts } from './start.ts';

const whole = (value: number) => Math.round(value).toLocaleString('en');
const ratio = (value: number) => value.toFixed(2);

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |\n`;
  return [head, head.map(() => '---'), ...rows].map(line).join('');
}

const starts = await measureStarts();
const { emptyNode, plain, withMany } = starts;
const megabytes = (of: typeof plain) => (of.megabytes === null ? '-' : `${Math.round(of.megabytes)} MB`);
const many = manyPeople.toLocaleString('en');
process.stdout.write(
  `${table(
    ['from the start to the first page', 'ms', 'resident', 'compared with', 'ms', 'ratio', 'wanted'],
    [
      [
        'an idle line',
        whole(plain.readyMs),
        megabytes(plain),
        'an empty Node process',
        whole(emptyNode.readyMs),
        ratio(plain.readyMs / emptyNode.readyMs),
        '1,000 ms, 120 MB',
      ],
      [
        `${many} open conversations and timers`,
        whole(withMany.readyMs),
        megabytes(withMany),
        'an idle line',
        whole(plain.readyMs),
        ratio(withMany.readyMs / plain.readyMs),
        '2,000 ms',
      ],
    ],
  )}\n`,
);

const found = await measureHandledMessage();
const { alone, together } = found;
process.stdout.write(
  table(
    ['a handled message is one durable transaction', 'line', 'by hand', 'ratio', 'wanted'],
    [
      ['alone', whole(alone.product), whole(alone.byHand), ratio(alone.product / alone.byHand), '0.80'],
      [
        '32 at once, by hand 32 in a commit',
        whole(together.product),
        whole(together.byHand),
        ratio(together.product / together.byHand),
        '0.60',
      ],
      [
        '32 at once, by hand one by one',
        whole(together.product),
        whole(alone.byHand),
        ratio(together.product / alone.byHand),
        '3.00',
      ],
    ],
  ),
);
process.stdout.write(
  `\nmessages per second, SQLite, write-ahead log, synchronous = full; the statements of one message:\n`,
);
for (const text of found.statements) process.stdout.write(`- \`${text.replace(/\s+/g, ' ')}\`\n`);
