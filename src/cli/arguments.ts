/** Words and options of a command line, by the rules of Node's own reader. */
import { type ParseArgsConfig, parseArgs } from 'node:util';

type Options = NonNullable<ParseArgsConfig['options']>;
const help = { help: { type: 'boolean', short: 'h' } } as const;

/**
 * Reads `args`; `--help` and `-h` are always known. `odd`: the option that is not known, lacks its value or has one too
 * many; then there are no words and values. Null = all is well.
 */
export function readArguments<const Known extends Options>(args: readonly string[], options: Known) {
  const config = { args: [...args], options: { ...options, ...help }, allowPositionals: true } as const;
  const asked = args.includes('--help') || args.includes('-h');
  try {
    const { values, positionals } = parseArgs(config);
    return { help: asked, odd: null, words: positionals, values };
  } catch (error) {
    const named = /'(-[^' ]*)/.exec(error instanceof Error ? error.message : '')?.[1];
    return {
      help: asked,
      odd: named ?? 'such option',
      words: [],
      values: {} as ReturnType<typeof parseArgs<typeof config>>['values'],
    };
  }
}
