/** How a person is reached, as it is written in the answers: `sms:+000555010001`, `telegram:7001001`, `telegram:invite`. */

/** Telegram knows nobody by a number before they wrote: `invite` = the person joins by a link. */
export const addressForm = /^(sms:\+\d{7,15}|telegram:(\d{1,16}|invite))$/;

export const addressWords = 'sms: and the number with its country, e.g. sms:+000555010001; or telegram:invite';

/** True for somebody who is to join by a link. */
export function isInvited(address: string): boolean {
  return address === 'telegram:invite';
}

/** Channel and address of one that is known. */
export function addressParts(address: string): { readonly channel: string; readonly address: string } {
  const colon = address.indexOf(':');
  return { channel: address.slice(0, colon), address: address.slice(colon + 1) };
}
