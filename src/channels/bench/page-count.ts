import { septetsOf } from '../../text/gsm7.ts';

/** Characters of the 7 bit alphabet that take `width` septets. */
function alphabet(width: 1 | 2): string {
  const signs = Array.from({ length: 0x3000 }, (_, code) => String.fromCharCode(code));
  return signs.filter((sign) => septetsOf(sign) === width).join('');
}

/**
 * Browser module with `countSms(text)`: units used, room of the messages begun, and messages, counted like
 * `text/segments.ts` (a test holds them together).
 */
export const pageCount = `
const single = new Set(${JSON.stringify([...alphabet(1)])});
const double = new Set(${JSON.stringify([...alphabet(2)])});

export function countSms(text) {
  const signs = [...text];
  const plain = signs.every((sign) => single.has(sign) || double.has(sign));
  const [alone, part] = plain ? [160, 153] : [70, 67];
  let used = 0;
  let parts = 1;
  let inPart = 0;
  for (const sign of signs) {
    const width = plain ? (double.has(sign) ? 2 : 1) : sign.length;
    used += width;
    if (inPart + width > part) {
      parts += 1;
      inPart = 0;
    }
    inPart += width;
  }
  const messages = used <= alone ? 1 : parts;
  return { plain, used, room: messages === 1 ? alone : messages * part, messages };
}
`;
