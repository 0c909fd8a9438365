import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { PlayedMessage } from '../../src/cli/player.ts';
import { costOfMessages } from '../../src/cli/whole-case.ts';
import { withSaidVars } from '../../src/content/check-content.ts';
import { measureScreens } from '../../src/content/wording/measure.ts';
import { wordRows } from '../../src/content/wording/table.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Report } from '../bench/report.ts';
import { speedTables } from '../bench/tables.ts';
import { playFile } from './play.ts';
import { questionsPerNodule } from './questions-per-nodule.ts';
import { shipped } from './shipped.ts';
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

/** Moments of the straight case that make one want to try it: how each begins, and how many messages are shown from there. */
const moments: readonly (readonly [RegExp, number])[] = [
  [/^w< AK: .*ADVISED/, 2],
  [/^w> 12$/, 2],
  [/^w< AK: stay beside the patient/, 2],
  [/^l> \d{8} Thy4/, 3],
  [/^w< AK [\d ]+: call the patient in/, 1],
];

/** The lines of a transcript in which the moments stand. */
function momentsOf(transcript: string): string {
  const messages = transcript.split(/\n(?=\w+[<>] )/);
  return moments
    .flatMap(([begins, count]) => {
      const at = messages.findIndex((one) => begins.test(one));
      if (at < 0) throw new Error(`the straight case has no ${begins}`);
      return messages.slice(at, at + count);
    })
    .join('\n');
}

/** How the texts read, by language, voice and group. */
function wordsTable(): string {
  const rows = shipped.sources.locales.flatMap((locale) =>
    wordRows(locale.tag, measureScreens(locale, shipped.sources.flows, withSaidVars(registry))),
  );
  const heads = ['language', 'voice', 'texts', 'screens', 'function words', 'over 150 characters', 'over one segment'];
  return [
    `| ${[...heads, 'over six options', 'capitals a screen', 'longest sentence', 'uncommon words'].join(' | ')} |`,
    `|${' --- |'.repeat(11)}`,
    ...rows.map((one) => {
      const first = [one.locale, one.voice, one.group, one.screens, `${one.functionWords} %`, one.over150, one.overOne];
      return `| ${[...first, one.overSix, one.capitals, one.longest, one.uncommon].join(' | ')} |`;
    }),
  ].join('\n');
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
  const five = `\`\`\`\n${momentsOf(await play('straight.play', []))}\n\`\`\``;
  return { five, transcript, cost, words: wordsTable(), telegram, questions, ...speedTables(lastRun) };
}
