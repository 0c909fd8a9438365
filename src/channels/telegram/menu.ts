/** The list of commands beside the writing field, in every language of the line. */
import type { Api } from 'grammy';
import type { Texts } from '../../conversation/texts.ts';
import type { Log } from '../../line/ports.ts';
import { faultOf } from './api.ts';

/**
 * Most urgent first. Telegram takes Latin letters only, so the commands are the English words, which the line understands in
 * every language; what they do is said in the reader's.
 */
const menuWords = ['sos', 'help', 'new', 'list', 'case', 'doctor', 'post', 'take', 'more', 'wrong', 'stop'] as const;

/** Language that Telegram shows to everybody whose own is not there. */
const everybody = 'en';

/** The menu in one language. */
function menuOf(texts: Texts, locale: string): { readonly command: string; readonly description: string }[] {
  return menuWords.map((command) => ({ command, description: texts.render(locale, `menu.${command}`, () => '') }));
}

/** Hands the menus over. A menu is a comfort: what fails is noted and left until the next start. */
export async function putMenus(api: Api, texts: Texts, locales: readonly string[], log: Log): Promise<void> {
  const languages = new Map(locales.map((tag) => [tag.split('-')[0]!, tag]));
  const others = [...languages].filter(([code]) => code !== everybody && /^[a-z]{2}$/.test(code));
  for (const [code, tag] of [[null, everybody] as const, ...others]) {
    const language = code === null ? {} : { language_code: code };
    const of = { scope: { type: 'all_private_chats' }, ...language } as Parameters<Api['setMyCommands']>[1];
    await api.setMyCommands(menuOf(texts, tag), of).catch((error: unknown) => {
      log.write('warn', 'telegram-menu-not-set', { code: faultOf(error).kind });
    });
  }
}
