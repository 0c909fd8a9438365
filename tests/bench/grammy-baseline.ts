/** The same questions on grammY's conversations plugin, its state committed to SQLite after each update. */
import { type Conversation, type ConversationFlavor, conversations, createConversation } from '@grammyjs/conversations';
import { Bot, type Context } from 'grammy';
import type { Update, UserFromGetMe } from 'grammy/types';
import { beginWord, Script, sameQuestion } from './baseline.ts';
import type { Contestant } from './contestant.ts';
import { keptRows } from './durable-file.ts';
import type { AskedQuestion } from './questions.ts';

type Outer = ConversationFlavor<Context>;

export interface GrammyBaseline extends Contestant {
  /** Answers of the visits that a person has finished, as they are kept. */
  answersOf(person: number): readonly (readonly string[])[];
}

/** Opens it on a file; what was kept there goes on, for people who are where `script` has them. The Bot API is answered in this process: no network. */
export function openGrammy(
  file: string,
  questions: readonly AskedQuestion[],
  script: Script = new Script(questions),
): GrammyBaseline {
  const rows = keptRows(file);
  const asked = new Map<string, string>();
  const finished = new Map<string, readonly string[]>();
  const bot = botOf(asked);

  bot.use(
    conversations<Outer, Context>({
      storage: {
        type: 'key',
        adapter: {
          read: (person) => {
            const kept = rows.read(person);
            return kept === null ? undefined : JSON.parse(kept);
          },
          write: (person, state) => keep(person, JSON.stringify(state)),
          delete: (person) => keep(person, null),
        },
      },
    }),
  );
  // Answers of a finished visit go with the state: one commit for each update.
  const keep = (person: string, state: string | null) => {
    rows.keep(person, state, finished.get(person) ?? null);
    finished.delete(person);
  };
  const visit = async (conversation: Conversation<Outer, Context>, ctx: Context) => {
    const answers: string[] = [];
    for (const question of questions) {
      await ctx.reply(question.text);
      answers.push((await conversation.waitFor('message:text')).message.text);
    }
    await conversation.external((outer) => {
      finished.set(String(outer.chatId), answers);
    });
  };
  bot.use(createConversation<Outer, Context>(visit, 'visit'));
  bot.hears(beginWord, (ctx) => ctx.conversation.enter('visit'));

  let updates = 0;
  const hear = async (person: number): Promise<void> => {
    updates += 1;
    const next = script.next(person);
    const chat = String(person + 1);
    asked.delete(chat);
    await bot.handleUpdate(updateOf(updates, person + 1, next.text));
    sameQuestion(next.asked, asked.get(chat) ?? null);
  };
  return {
    handle: async (people) => {
      await Promise.all(people.map(hear));
    },
    send: async () => undefined,
    answersOf: (person) => rows.answersOf(String(person + 1)),
    close: async () => rows.close(),
  };
}

/** The plugin's own calls take the bot's client options and no transformers, so the answer is given where a network would. */
function botOf(asked: Map<string, string>): Bot<Outer> {
  const answer = async (address: unknown, given?: { readonly body?: unknown }) => {
    if (!String(address).endsWith('/sendMessage')) throw new Error(`the bench does not answer ${address}`);
    const { chat_id: id, text } = JSON.parse(String(given?.body));
    asked.set(String(id), text);
    const result = { message_id: 1, date: 1, chat: { id, type: 'private', first_name: 'W' }, text };
    return { json: async () => ({ ok: true, result }) };
  };
  const botInfo = { id: 1, is_bot: true, first_name: 'Bench', username: 'bench_bot' } as UserFromGetMe;
  return new Bot<Outer>('1:bench', { botInfo, client: { fetch: answer as never } });
}

function updateOf(number: number, chat: number, text: string): Update {
  const person = { id: chat, first_name: 'W' };
  return {
    update_id: number,
    message: {
      message_id: number,
      date: 1_900_000_000,
      chat: { ...person, type: 'private' },
      from: { ...person, is_bot: false },
      text,
    },
  };
}
