/**
 * Names of buttons: which question a tap answers. Short whatever the ids are (a button carries at most 64 bytes), and
 * the same for the same question, so that nothing has to be stored for it.
 */

/** Token of a question whose text does not open any more: no question has it, so what answers it counts for no other. */
export const lostToken = 'lost';

/** Begins the token of a button under a doctor's question; its reply carries the question's tag. */
const doctorMark = 'doctor';

/** Token of a question of somebody's own conversation: this frame, this visit. */
export function askToken(frameId: string, entry: number): string {
  return `${shortName(frameId)}/${entry}`;
}

/** Token of a question of the doctors' ladder. */
export function doctorToken(questionId: string): string {
  return `${doctorMark}/${shortName(questionId)}`;
}

export function isDoctorToken(token: string): boolean {
  return token.startsWith(`${doctorMark}/`);
}

/**
 * Thirteen characters that stand for a text: two 32 bit FNV-1a sums (Fowler, Noll, Vo; from memory) that begin
 * differently. Not secret; among the questions of one person two are never the same in practice.
 */
function shortName(text: string): string {
  let one = 0x811c9dc5;
  let two = 0x01000193;
  for (let at = 0; at < text.length; at += 1) {
    one = Math.imul(one ^ text.charCodeAt(at), 0x01000193) >>> 0;
    two = Math.imul(two ^ text.charCodeAt(text.length - 1 - at), 0x01000193) >>> 0;
  }
  return `${one.toString(36).padStart(7, '0')}${two.toString(36).padStart(7, '0')}`;
}
