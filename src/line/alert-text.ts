/** What an alert says: the words that the coordinators read, with the programme's name before them. */
import type { Content } from '../conversation/content.ts';
import type { Condition } from './condition.ts';

/** In the first language of the line, which whoever runs it reads. */
export function alertTextOf({ programme, texts }: Pick<Content, 'programme' | 'texts'>): (of: Condition) => string {
  const locale = texts.languages[0]?.tag ?? 'en';
  return ({ key, vars }) => `${programme.name}: ${texts.render(locale, `trouble.${key}`, (name) => vars[name] ?? '')}`;
}
