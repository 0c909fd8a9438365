import { parseFindings } from '../clinical/findings.ts';
import { assess, defaultPolicy } from '../clinical/indication.ts';
import { type PolicyId, policyIds } from '../clinical/policies/policy.ts';
import { readArguments } from './arguments.ts';

/** Where a command reads and writes; `write` answers false when the reader is slower, `once('drain')` tells when to go on. */
export interface AssessStreams {
  readonly stdin: AsyncIterable<string | Buffer>;
  readonly stdout: Sink;
  readonly stderr: Sink;
}

export interface Sink {
  // biome-ignore lint/suspicious/noConfusingVoidType: a plain callback that returns nothing is a sink too
  write(text: string): boolean | void;
  once?(event: 'drain', listener: () => void): unknown;
}

const usage = `usage: neckline assess [--policy ${policyIds.join('|')}] < findings.jsonl

Reads findings from standard input, one JSON object a line, and answers each with one JSON line: the decision, why,
what to be careful of, what is missing, what a needle is proposed for, and what every policy says of every nodule.
--policy names the one that governs (default ${defaultPolicy}). Exit 1 if a line could not be read; 2 for a wrong
option.
`;

/** A longer line is refused: no findings are that long. In UTF-16 units. */
const longestLine = 1_000_000;

/**
 * Runs the command. Answers line by line in the order of input and in constant memory: never holds more than one line
 * and one chunk. Returns the exit code: 0, 1 when a line was answered with an error, 2 for wrong options.
 */
export async function runAssess(args: readonly string[], { stdin, stdout, stderr }: AssessStreams): Promise<number> {
  const { help, odd, words, values } = readArguments(args, { policy: { type: 'string', default: defaultPolicy } });
  if (help) {
    await put(stdout, usage);
    return 0;
  }
  const unknown = odd ?? words[0];
  const policy = policyIds.find((id) => id === values.policy);
  if (unknown !== undefined || policy === undefined) {
    const fault =
      unknown === undefined
        ? `unknown policy: ${values.policy}; known: ${policyIds.join(', ')}`
        : `unknown option, or one without its value: ${unknown}`;
    await put(stderr, `${fault}\n${usage}`);
    return 2;
  }
  let code = 0;
  for await (const batch of linesOf(stdin)) {
    let text = '';
    for (const line of batch) {
      if (line.text !== null && line.text.trim() === '') continue;
      const answer = answerTo(line, policy);
      if ('error' in answer) code = 1;
      text += `${JSON.stringify(answer)}\n`;
    }
    if (text !== '') await put(stdout, text);
  }
  return code;
}

interface Line {
  readonly number: number;
  /** `null`: too long to be kept. */
  readonly text: string | null;
}

function answerTo({ number, text }: Line, policy: PolicyId): object {
  if (text === null) return { id: null, error: { path: '', expected: `a line of at most ${longestLine} characters` } };
  let told: unknown;
  try {
    told = JSON.parse(text);
  } catch {
    return { id: null, error: { path: '', expected: 'one JSON object a line' } };
  }
  const id = idOf(told) ?? number;
  const parsed = parseFindings(told);
  return parsed.ok ? { id, ...assess(parsed.findings, { policy }) } : { id, error: parsed.refusal };
}

function idOf(told: unknown): string | null {
  if (typeof told !== 'object' || told === null || !('id' in told)) return null;
  return typeof told.id === 'string' && told.id !== '' ? told.id : null;
}

/** The lines of a stream, those of one chunk together; a line over the limit comes without its text. */
async function* linesOf(stdin: AsyncIterable<string | Buffer>): AsyncGenerator<Line[]> {
  const decoder = new TextDecoder();
  let rest = '';
  let isTooLong = false;
  let number = 0;
  for await (const chunk of stdin) {
    const pieces = (typeof chunk === 'string' ? chunk : decoder.decode(chunk, { stream: true })).split('\n');
    const last = pieces.pop() ?? '';
    const batch: Line[] = [];
    for (const piece of pieces) {
      number += 1;
      batch.push(lineOf(number, rest + piece, isTooLong));
      rest = '';
      isTooLong = false;
    }
    rest += last;
    if (rest.length > longestLine) {
      isTooLong = true;
      rest = '';
    }
    if (batch.length > 0) yield batch;
  }
  rest += decoder.decode();
  if (rest !== '' || isTooLong) yield [lineOf(number + 1, rest, isTooLong)];
}

const lineOf = (number: number, text: string, isTooLong: boolean): Line => ({
  number,
  text: isTooLong || text.length > longestLine ? null : text,
});

async function put(sink: Sink, text: string): Promise<void> {
  if (sink.write(text) !== false || sink.once === undefined) return;
  await new Promise<void>((resolve) => sink.once?.('drain', resolve));
}
