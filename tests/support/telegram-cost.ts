import { readFileSync } from 'node:fs';
import { TelegramClinic } from './telegram-clinic.ts';

const straight = readFileSync(new URL('../conversations/straight.play', import.meta.url), 'utf8');

/** The script with these people on Telegram, the others on plain phones. */
export function onTelegram(script: string, ...names: readonly string[]): string {
  return names.reduce(
    (text, name, index) =>
      text.replace(new RegExp(`^phone ${name} \\S+ (.*)$`, 'm'), `phone ${name} ${7001 + index} $1 channel=telegram`),
    script,
  );
}

/** What the straight case costs on Telegram, up to the CASE that only checks its history; everybody there, or some. */
export async function telegramCost(...names: readonly string[]) {
  const clinic = await TelegramClinic.open();
  try {
    const lines = onTelegram(straight, ...names).split('\n');
    await clinic.play(
      lines
        .slice(
          0,
          lines.findIndex((line) => line.startsWith('w> CASE')),
        )
        .join('\n'),
    );
    return await clinic.cost();
  } finally {
    await clinic.close();
  }
}
