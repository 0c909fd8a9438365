/** What a run is told of: texts that reach phones, texts that people send. */
import type { Question } from './reply.ts';
import type { CommentWords, Part, Scenario } from './scenario.ts';

/** A text that reached the phone of somebody who is played. */
export interface Told extends Question {
  readonly at: number;
  readonly part: Part;
  /** `flow.step`, or the text's key where no flow asks. */
  readonly step: string;
  /** It is a question that takes an answer. */
  readonly asks: boolean;
}

/** A text that somebody sent. */
export interface Sent {
  readonly at: number;
  readonly part: Part;
  readonly text: string;
  /** What the first word means to the line (`HELP`, `BACK`, `SOS`); null = nothing. */
  readonly keyword: string | null;
}

export interface Rules {
  readonly scenario: Scenario;
  readonly comments: CommentWords;
}

/** Words that ask for help, look something up or go back: neither right nor wrong. */
const looking: readonly string[] = ['HELP', 'LIST', 'CASE', 'MORE', 'SAY', 'W', 'BACK', 'PLAIN', 'BRIEF', 'DOCTOR'];

/** `C3`, `CP`: one answer of the read-back is changed. */
const changesOne = /^C ?(?:\d{1,2}|P)$/i;

/** True: the text looks something up or leads back, so that no answer of it is wrong. */
export function looksUp({ keyword, text }: Pick<Sent, 'keyword' | 'text'>): boolean {
  return (keyword !== null && looking.includes(keyword)) || changesOne.test(text.trim());
}
