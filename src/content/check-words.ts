/** Words that people send: options with labels in every language, keywords without doubles, digits shown where asked. */
import type { FlowAsk, FlowOption, FlowState } from '../conversation/flow.ts';
import type { AlarmAnswer } from '../conversation/hearing/alarm-words.ts';
import { foldWord } from '../text/fold.ts';
import { renderTemplate } from '../text/render.ts';
import type { CheckRegistry } from './check-registry.ts';
import type { Content, FlowSource } from './load.ts';
import type { Problem } from './problem.ts';
import { indexTexts, type TextEntry } from './text-index.ts';
import type { Locale } from './texts.ts';

/** Keywords that every language has; the laboratory's YES and NO and the worker's answers share their words. */
const keywords = [
  ...['NEW', 'CASE', 'TAKE', 'LIST', 'DOCTOR', 'SOS', 'STOCK', 'REPORT', 'JOIN', 'MORE', 'LOST', 'HELP', 'LANGUAGE'],
  ...['GOT', 'BAD', 'YES', 'NO', 'STOP', 'START', 'BACK', 'W', 'SAY', 'PLAIN', 'BRIEF', 'WRONG', 'POST'],
  ...['ADD', 'OFF', 'ON', 'DUTY', 'ASK'],
  ...['PEOPLE', 'CHANGE', 'SUSPEND', 'RESTORE', 'FRESH', 'HANDOVER', 'CREDIT'],
  ...['REFUSES', 'GONE', 'NOTDONE', 'LATER', 'NOPARCEL', 'SEEN', 'END'],
] as const;

/** Keywords that are meant at any moment, so that no answer may use their words. */
const alwaysMeant = ['STOP', 'SOS', 'BACK', 'W', 'SAY', 'HELP', 'WRONG', 'MORE'];

/** Problems of options, keywords and shown digits in all languages. */
export function checkWords(content: Content, registry: CheckRegistry): readonly Problem[] {
  const problems: Problem[] = [];
  for (const locale of content.sources.locales) {
    problems.push(...checkKeywords(locale), ...optionsTwice(locale));
    const index = indexTexts(locale);
    for (const source of content.sources.flows) problems.push(...checkShown(content, registry, locale, index, source));
  }
  return problems;
}

/** Problems of a flow's questions in one language: labels of their options, and digits that their texts do not show. */
export function checkShown(
  content: Pick<Content, 'texts'>,
  registry: CheckRegistry,
  locale: Locale,
  index: ReturnType<typeof indexTexts>,
  source: FlowSource,
): readonly Problem[] {
  const problems: Problem[] = [];
  for (const state of source.flow.states.values()) {
    if (!state.ask) continue;
    problems.push(...checkLabels(content, locale, source, state, state.ask));
    for (const entry of index.get(state.text) ?? []) {
      problems.push(...checkDigits(content, registry, locale, entry, state, state.ask));
    }
  }
  return problems;
}

function checkKeywords(locale: Locale): readonly Problem[] {
  const file = `${locale.folder}/keywords.json`;
  const problem = (path: string, what: string, todo: string): Problem => ({ file, line: 1, path, what, todo });
  const problems: Problem[] = keywords
    .filter((keyword) => !(keyword in locale.keywords))
    .map((keyword) => problem(keyword, 'is missing', `add the words for ${keyword}`));
  const meanings = new Map<string, string>();
  for (const [keyword, words] of Object.entries(locale.keywords)) {
    if (!keywords.some((one) => one === keyword)) problems.push(problem(keyword, 'is no keyword', 'remove it'));
    for (const word of words.map(foldWord)) {
      if (/\s/u.test(word)) problems.push(problem(keyword, `${word} is more than one word`, 'use one word'));
      const other = meanings.get(word);
      if (other !== undefined && other !== keyword) {
        problems.push(problem(keyword, `${word} means ${other} already`, 'give it one meaning'));
      }
      meanings.set(word, keyword);
    }
  }
  return problems;
}

function optionsTwice(locale: Locale): readonly Problem[] {
  const homes = new Map<string, string>();
  return locale.files.flatMap((file) =>
    Object.entries(file.options).flatMap(([field, ids]) =>
      Object.keys(ids).flatMap((id) => {
        const home = homes.get(`${field}\n${id}`);
        homes.set(`${field}\n${id}`, file.file);
        if (home === undefined) return [];
        const line = file.lineOf(['options', field, id]);
        const path = `options.${field}.${id}`;
        return [{ file: file.file, line, path, what: `stands in ${home} already`, todo: 'keep one of them' }];
      }),
    ),
  );
}

function checkLabels(
  content: Pick<Content, 'texts'>,
  locale: Locale,
  source: FlowSource,
  state: FlowState,
  ask: FlowAsk,
): readonly Problem[] {
  const problems: Problem[] = [];
  const path = ['states', state.name, 'ask', 'options'];
  const report = (what: string, todo: string) =>
    problems.push({ file: source.file, line: source.lineOf(path), path: path.join('.'), what, todo });
  const meanings = new Map<string, string>();
  const always = alwaysMeant.flatMap((keyword) => [...(locale.keywords[keyword] ?? [])].map(foldWord));
  for (const { id, reply } of ask.options) {
    if (always.includes(foldWord(reply)))
      report(`in ${locale.tag} the reply ${reply} is a keyword`, 'use another reply');
    if (!hasLabel(locale, ask.field, id)) {
      const todo = `add it to "options" in ${locale.folder}/${source.flow.name}.json, under "${ask.field}"`;
      report(`${id} has no label in ${locale.tag}`, todo);
    }
    for (const word of content.texts.words(locale.tag, ask.field, id)) {
      const other = meanings.get(word);
      if (other !== undefined && other !== id) {
        report(`in ${locale.tag} the word ${word} means ${other} and ${id}`, 'give each its own words');
      }
      if (always.includes(word)) report(`in ${locale.tag} the word ${word} of ${id} is a keyword`, 'use another word');
      meanings.set(word, id);
    }
  }
  return problems;
}

/** Whether the language words this option, at its own field or for all. */
export function hasLabel(locale: Locale, field: string, id: string): boolean {
  return locale.files.some((file) => file.options[field]?.[id] !== undefined || file.options['*']?.[id] !== undefined);
}

/** An alarm's word stands in the text as people can send it, with its digits where it needs them. */
function showsAlarmWord(
  locale: Locale,
  entry: TextEntry,
  words: string,
  answer: AlarmAnswer,
  withDigits: boolean,
): boolean {
  if (withDigits && !entry.template.placeholders.includes(answer)) return false;
  return (locale.alarm?.answers[answer] ?? []).some((word) => words.includes(` ${word} `));
}

/** Each digit that can be sent stands in the question, in the language it is asked in. */
function checkDigits(
  content: Pick<Content, 'texts'>,
  registry: CheckRegistry,
  locale: Locale,
  entry: TextEntry,
  state: FlowState,
  ask: FlowAsk,
): readonly Problem[] {
  if (ask.kind !== 'choice' && ask.kind !== 'choices') return [];
  // A value may show replies of its own (a list to correct by number), but not where a number stands before each reply.
  const literal = renderTemplate(entry.template, (name) =>
    ask.numbered === null ? (registry.samples?.get(name) ?? '') : '',
  );
  const shown = new Set(literal.match(/\d+/gu) ?? []);
  const words = ` ${foldWord(literal).replace(/[^\p{L}\p{N}]+/gu, ' ')} `;
  const hidden = ask.options.filter((option) => option.secret && option.alarm === undefined);
  const placeholderOf = (option: FlowOption): string => {
    const index = hidden.indexOf(option);
    return index === 0 ? 'secret' : `secret${index + 1}`;
  };
  const lacking = ask.options.filter((option) => {
    if (option.alarm !== undefined) return !showsAlarmWord(locale, entry, words, option.alarm, option.secret);
    if (option.secret) return !entry.template.placeholders.includes(placeholderOf(option));
    if (option.reply === '') return false;
    if (/^\d+$/u.test(option.reply)) return !shown.has(option.reply);
    const accepted = [foldWord(option.reply), ...content.texts.words(locale.tag, ask.field, option.id)];
    return !accepted.some((word) => words.includes(` ${word} `));
  });
  if (lacking.length === 0) return [];
  const names = lacking.map((one) => one.alarm ?? (one.secret ? `{${placeholderOf(one)}}` : one.reply)).join(', ');
  return [
    {
      file: entry.file.file,
      line: entry.file.lineOf([entry.ownKey]),
      path: entry.ownKey,
      what: `the question ${state.name} can be answered by ${names}, which the text does not show`,
      todo: 'show every reply',
    },
  ];
}
