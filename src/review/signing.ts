import { escaped } from '../drawings/ink.ts';

/** What stands wherever somebody signs. */
export const decidesNothing =
  'This sheet decides nothing. It shows what the line would say, for people to read; the local protocol goes first.';

/** Room for one person to sign for a part of the sheet. */
export function signingRoom(part: string): string {
  const places = ['Name', 'Registration', 'Date', 'Signature'].map((one) => `<span>${one}</span>`).join('');
  return `<div class="sign-for"><p>Read: <b>${escaped(part)}</b>. <small>${decidesNothing}</small></p><div class="sign">${places}</div></div>`;
}
