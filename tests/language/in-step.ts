/** A script of the conversations, played in English and in another language side by side: the same must happen, in other words. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findExpected, withCaptured } from '../../src/channels/play/expectation.ts';
import { readLine, type ScriptLine } from '../../src/channels/play/script.ts';
import { type PlayedMessage, Player } from '../../src/cli/player.ts';
import type { Content } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { foldWord } from '../../src/text/fold.ts';
import { countSegments } from '../../src/text/segments.ts';

/** What people received after one line of a script, in both languages. */
export interface InStep {
  readonly line: string;
  readonly english: readonly PlayedMessage[];
  readonly other: readonly PlayedMessage[];
}

export interface PlayedInStep {
  /** Where the two do not say the same, and errors that the line logged. */
  readonly failures: readonly string[];
  /** Everything that people received. */
  readonly received: readonly InStep[];
}

/**
 * Whom, about what, and with which answers: all that must be the same in every language. Screens of several texts go out in turns,
 * so that of two phones, and of two questions, the one with fewer screens is asked first.
 */
function asked(messages: readonly PlayedMessage[]): readonly string[] {
  return messages
    .filter(({ ask }) => ask !== null)
    .map(({ phone, flow, step, ask }) => {
      const options = ask!.options.map(({ id, reply }) => `${isWord(reply) ? '' : reply}=${id}`);
      return `${phone} ${flow} ${step} ${ask!.field} ${options.join(' ')}`;
    })
    .sort();
}

/** Words to send are another word in each language. */
function isWord(reply: string): boolean {
  return /\p{L}{2}/u.test(reply);
}

/** What turns no figure round, and a quote that is cut somewhere: where that is depends on the words before it. */
const unsaid = /[\u200e\u200f]|"[^"]*\.\.\."/gu;

/** Figures that each phone was told, codes without their gaps: a language says them in other sentences, and in more screens. */
function figures(messages: readonly PlayedMessage[]): ReadonlySet<string> {
  return new Set(
    messages.flatMap(({ phone, text }) => {
      const said =
        text
          .replace(unsaid, '')
          .replace(/(?<!\d)(\d{4})[ \u00a0.](\d{4})(?!\d)/gu, '$1$2')
          .match(/\d+/gu) ?? [];
      return said.map((one) => `${phone} ${one}`);
    }),
  );
}

class Side {
  readonly failures: string[] = [];
  heard: PlayedMessage[] = [];
  private readonly folder = mkdtempSync(join(tmpdir(), 'neckline-in-step-'));
  private readonly player: Player;

  constructor(content: Content) {
    const file = join(this.folder, 'play.db');
    const keys = openKeyRing(`${file}.key`);
    this.player = new Player({
      content,
      registry,
      log: { write: (level, event) => void (level === 'error' && this.failures.push(`logged ${event}`)) },
      countSegments,
      open: (dueAtOf) => openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false }),
      emit: (played) => {
        if (played.kind !== 'message') this.failures.push(JSON.stringify(played));
        else if (played.message.dir === 'out') this.heard.push(played.message);
      },
    });
  }

  play(line: ScriptLine): Promise<void> {
    return this.player.play(line);
  }

  async end(): Promise<void> {
    await this.player.close();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A quick text in the trade words of the other language: each phrase that means the same. */
function quickIn(content: Content, locale: string, text: string): string {
  const [english, own] = [content.quick.get('en')!, content.quick.get(locale)!];
  const same = <T>(all: Readonly<Record<string, T>>, there: Readonly<Record<string, T>>, phrase: string) => {
    const meaning = Object.hasOwn(all, phrase) ? JSON.stringify(all[phrase]) : undefined;
    return meaning && Object.keys(there).find((one) => JSON.stringify(there[one]) === meaning);
  };
  const words = text.split(' ');
  const said: string[] = [];
  for (let at = 0; at < words.length; ) {
    const spans = [4, 3, 2, 1].map((count) => words.slice(at, at + count));
    const found = spans.flatMap((span) => {
      const phrase = foldWord(span.join(' '));
      const other = same(english.words, own.words, phrase) ?? same(english.lists, own.lists, phrase);
      return other === undefined ? [] : [{ other, count: span.length }];
    })[0];
    said.push(found?.other ?? words[at]!);
    at += found?.count ?? 1;
  }
  return said.join(' ');
}

/** The first word of a text, and the words of an open alarm, as the other language shows them; the rest as it was typed. */
export function typedIn(content: Content, locale: string, text: string): string {
  const { texts } = content;
  const [english] = texts.alarmWords('en');
  const [own] = texts.alarmWords(locale);
  const answers = new Map(
    Object.entries(english?.answers ?? {}).map(([id, [word = id]]) => [
      word,
      own?.answers[id as keyof typeof own.answers][0] ?? word,
    ]),
  );
  // M behind a year or an age is a man; some languages ask back for the word.
  const man = texts.label(locale, 'sexShort', 'male').toUpperCase();
  const sexed = text.replace(/(?<=\b\d{1,4} )M(?=$| (?!\d))/u, man);
  const typed = /^NEW .* (?:signs|solid|tsh)/iu.test(sexed) ? quickIn(content, locale, sexed) : sexed;
  return typed
    .split(' ')
    .map((word, at) => {
      if (word !== word.toUpperCase() || !/^\p{L}{2,}$/u.test(word)) return word;
      const keyword = at === 0 ? texts.keyword('en', word) : null;
      if (keyword !== null && keyword !== 'SOS') return keywordIn(content, locale, keyword, word);
      return answers.get(foldWord(word))?.toUpperCase() ?? word;
    })
    .join(' ');
}

/** A keyword as it is shown, or its other word where the other word of English was typed: W, WORDS. */
function keywordIn({ sources, texts }: Content, locale: string, keyword: string, typed: string): string {
  const shown = texts.keywordShown(locale, keyword);
  const wordsOf = (tag: string) => sources.locales.find((one) => one.tag === tag)?.keywords?.[keyword] ?? [];
  const isOther = foldWord(typed) !== wordsOf('en')[0];
  return (isOther ? wordsOf(locale)[1]?.toUpperCase() : undefined) ?? shown;
}

/** Plays the script with phones of other languages; `localeOf` a phone, by its name. */
export async function playInStep(
  script: string,
  content: Content,
  localeOf: (phone: string) => string,
): Promise<PlayedInStep> {
  const [english, other] = [new Side(content), new Side(content)];
  const failures: string[] = [];
  const received: InStep[] = [];
  let captured: Readonly<Record<string, string>> = {};
  /** Holds against each other what came since the last line that acts. */
  const compare = (line: string): void => {
    const [questions, theirs] = [asked(english.heard), asked(other.heard)];
    const heard = figures(other.heard);
    // A case goes on with MORE where its page is full, and a page holds more of it in one language than in another.
    const isPage = foldWord(line).endsWith('more');
    const untold = isPage ? [] : [...figures(english.heard)].filter((one) => !heard.has(one));
    const texts = other.heard.map(({ phone, text }) => `${phone}< ${text}`).join('\n');
    if (questions.join('\n') !== theirs.join('\n')) {
      failures.push(`after ${line}: asked is ${questions.join(' | ')} but ${theirs.join(' | ')}\n${texts}`);
    }
    if (untold.length > 0) failures.push(`after ${line}: not told is ${untold.join(', ')}\n${texts}`);
    received.push({ line, english: english.heard, other: other.heard });
  };
  try {
    let acted = '';
    for (const raw of script.split('\n')) {
      const line = readLine(raw);
      if (line.kind === 'nothing') continue;
      if (line.kind === 'expect') {
        const texts = english.heard.filter((one) => one.phone === line.name).map(({ text }) => text);
        captured = { ...captured, ...findExpected(withCaptured(line.pattern, captured), texts).groups };
        continue;
      }
      if (line.kind !== 'phone') {
        compare(acted);
        [english.heard, other.heard, acted] = [[], [], raw];
      }
      if (failures.length > 0) break;
      const sent = line.kind === 'send' ? withCaptured(line.text, captured) : '';
      await english.play(line.kind === 'send' ? { ...line, text: sent } : line);
      await other.play(
        line.kind === 'phone'
          ? { ...line, locale: localeOf(line.name) }
          : line.kind === 'send'
            ? { ...line, text: typedIn(content, localeOf(line.name), sent) }
            : line,
      );
    }
    compare(acted);
    return { failures: [...failures, ...other.failures], received };
  } finally {
    await english.end();
    await other.end();
  }
}
