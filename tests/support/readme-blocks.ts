import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { PlayedMessage } from '../../src/cli/player.ts';
import { costOfMessages } from '../../src/cli/whole-case.ts';
import type { Report } from '../bench/report.ts';
import { speedTables } from '../bench/tables.ts';
import { playFile } from './play.ts';
import { questionsPerNodule } from './questions-per-nodule.ts';
import { telegramCost } from './telegram-cost.ts';

const scripts = fileURLToPath(new URL('../conversations/', import.meta.url));

const play = async (name: string, args: readonly string[]): Promise<string> =>
  (await playFile(`${scripts}${name}`, args)).printed;

/** What each phone of a script sends and receives, up to the CASE that only checks its history. */
export async function costOf(name: string) {
  const lines = (await play(name, ['--json'])).split('\n').filter((one) => one.startsWith('{"at"'));
  const cost = costOfMessages(lines.map((line) => JSON.parse(line) as PlayedMessage));
  return Object.fromEntries(cost);
}

/** The README's blocks by name, as they are today. */
export async function readmeBlocks(): Promise<Readonly<Record<string, string>>> {
  const transcript = `\`\`\`\n${(await play('straight.play', [])).trimEnd()}\n\`\`\``;
  const [guided, quick] = [await costOf('straight.play'), await costOf('straight-quick.play')];
  const cells = (of: Awaited<ReturnType<typeof costOf>>[string] | undefined): string =>
    `${of?.sends.segments} | ${of?.receives.segments} | ${of?.sends.octets} | ${of?.receives.octets}`;
  const row = (who: string, name: string): string => `| ${who} | ${cells(guided[name])} | ${cells(quick[name])} |`;
  const cost = [
    '| | guided: sends | receives | octets sent | received | quick text: sends | receives | octets sent | received |',
    '| --- | --- | --- | --- | --- | --- | --- | --- | --- |',
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
  const lastRun = JSON.parse(readFileSync(new URL('../bench/last.json', import.meta.url), 'utf8')) as Report;
  return { transcript, cost, telegram, questions, ...speedTables(lastRun) };
}
