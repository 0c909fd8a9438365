import { readFileSync } from 'node:fs';

/** Version of this package, as its `package.json` says it. */
export function packageVersion(): string {
  const file = new URL('../../package.json', import.meta.url);
  return (JSON.parse(readFileSync(file, 'utf8')) as { readonly version: string }).version;
}
