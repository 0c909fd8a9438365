/** Texts sent as a reply to a message of ours: they answer the question in it, as a tap on its button would. */
import { doctorToken, isDoctorToken } from './ask-token.ts';
import type { LineEvent } from './event.ts';
import { hearText } from './hear.ts';
import { threadOfToken } from './hear-tap.ts';
import { Interpreter } from './interpret.ts';
import { tagInFront } from './question-tag.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Handles a text, whatever it quotes. SOS, STOP and commands are what they are, behind any quote. */
export function hearSaid(turn: Turn, person: Person, event: LineEvent & { readonly kind: 'text' }): void {
  const token = turn.world.quotedToken;
  if (token === null) hearText(turn, person, event.text, event.networkAt);
  else if (isDoctorToken(token)) quoteDoctorQuestion(turn, person, token, event.text);
  else quoteOwnQuestion(turn, person, token, event.text);
}

function quoteOwnQuestion(turn: Turn, person: Person, token: string, text: string): void {
  const asked = threadOfToken(turn, token);
  if (asked) new Interpreter(turn, person).raise(asked.id);
  // What it answers is known: when it left the phone says nothing more.
  hearText(turn, person, text, null, asked ? 'question' : 'old-question');
}

/** The quote stands for the tag. A tag that was typed all the same counts, and so does a command. */
function quoteDoctorQuestion(turn: Turn, person: Person, token: string, text: string): void {
  const own = turn.questions.filter((one) => one.askedOf.includes(person.id));
  const quoted = own.find((one) => doctorToken(one.id) === token);
  const typed = tagInFront(text);
  if (own.some((one) => one.tag === typed)) hearText(turn, person, text, null);
  else if (quoted) hearText(turn, person, text, null, { tag: quoted.tag });
  else hearText(turn, person, text, null, 'old-question');
}
