import { openApi } from './api.ts';

/** How long the question may take, s: who asks has an answer without it. */
const timeoutSeconds = 8;

/** The bot's public name, for links to it; null when Telegram does not tell now. */
export async function botName(token: string, apiRoot: string | undefined): Promise<string | null> {
  try {
    const { username } = await openApi(token, apiRoot, timeoutSeconds).getMe();
    return /^\w{1,64}$/.test(username) ? username : null;
  } catch {
    return null;
  }
}
