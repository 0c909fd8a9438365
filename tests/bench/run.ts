/** `npm run bench`: ratios against baselines measured in the same run. */
import { measureHandledMessage } from './handled-message.ts';

const found = await measureHandledMessage();
const { alone, together } = found;
const perSecond = (value: number) => Math.round(value).toLocaleString('en');
const ratio = (value: number) => value.toFixed(2);
const rows = [
  ['a handled message is one durable transaction', 'line', 'by hand', 'ratio', 'at least'],
  ['---', '---', '---', '---', '---'],
  ['alone', perSecond(alone.product), perSecond(alone.byHand), ratio(alone.product / alone.byHand), '0.80'],
  [
    '32 at once, by hand 32 in a commit',
    perSecond(together.product),
    perSecond(together.byHand),
    ratio(together.product / together.byHand),
    '0.60',
  ],
  [
    '32 at once, by hand one by one',
    perSecond(together.product),
    perSecond(alone.byHand),
    ratio(together.product / alone.byHand),
    '3.00',
  ],
];
const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
for (const row of rows) {
  process.stdout.write(`| ${row.map((cell, column) => cell.padEnd(widths[column]!)).join(' | ')} |\n`);
}
process.stdout.write(
  `\nmessages per second, SQLite, write-ahead log, synchronous = full; the statements of one message:\n`,
);
for (const text of found.statements) process.stdout.write(`- \`${text.replace(/\s+/g, ' ')}\`\n`);
