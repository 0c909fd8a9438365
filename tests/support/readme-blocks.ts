import { Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { runPlay } from '../../src/cli/play.ts';
import { questionsPerNodule } from './questions-per-nodule.ts';
import { telegramCost } from './telegram-cost.ts';

const scripts = fileURLToPath(new URL('../conversations/', import.meta.url));

async function play(name: string, args: readonly string[]): Promise<string> {
  let printed = '';
  const out = { write: (text: string) => (printed += text) };
  await runPlay([`${scripts}${name}`, ...args], { stdin: Readable.from([]), stdout: out, stderr: out });
  return printed;
}

/** Sends and received segments of each phone of a script, up to the CASE that only checks its history. */
export async function costOf(name: string): Promise<Readonly<Record<string, { sends: number; segments: number }>>> {
  const cost: Record<string, { sends: number; segments: number }> = {};
  for (const line of (await play(name, ['--json'])).split('\n').filter((one) => one.startsWith('{"at"'))) {
    const { phone, dir, segments, text } = JSON.parse(line) as {
      phone: string;
      dir: string;
      segments: number;
      text: string;
    };
    if (dir === 'in' && text.startsWith('CASE')) break;
    const own = cost[phone] ?? { sends: 0, segments: 0 };
    cost[phone] = own;
    if (dir === 'in') own.sends += 1;
    else own.segments += segments;
  }
  return cost;
}

/** The README's blocks by name, as they are today. */
export async function readmeBlocks(): Promise<Readonly<Record<string, string>>> {
  const transcript = `\`\`\`\n${(await play('straight.play', [])).trimEnd()}\n\`\`\``;
  const [guided, quick] = [await costOf('straight.play'), await costOf('straight-quick.play')];
  const row = (who: string, name: string): string =>
    `| ${who} | ${guided[name]?.sends} | ${guided[name]?.segments} | ${quick[name]?.sends} | ${quick[name]?.segments} |`;
  const cost = [
    '| | guided: sends | receives | quick text: sends | receives |',
    '| --- | --- | --- | --- | --- |',
    row('health worker', 'w'),
    row('laboratory', 'l'),
    row('doctor', 'd'),
  ].join('\n');
  const asked = await questionsPerNodule();
  const questions = [
    '| nodule | mm | questions | the line says |',
    '| --- | --- | --- | --- |',
    ...asked.map((one) => `| ${one.nodule} | ${one.mm} | ${one.questions} | ${one.decision.toLowerCase()} |`),
  ].join('\n');
  const { messages, taps, typed, bodyBytes } = await telegramCost('w', 'd', 'l');
  const telegram = [
    '| all three on Telegram | messages received | answers by button | typed | bytes of the calls, without headers |',
    '| --- | --- | --- | --- | --- |',
    `| guided | ${messages} | ${taps} | ${typed} | ${Math.round(bodyBytes / 1000)} kB |`,
  ].join('\n');
  return { transcript, cost, telegram, questions };
}
