// The notices that the licences of deploy/licences.md ask to be passed on: one text a package that is in a release, also
// of those that went into the built files.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Locked, lockedPackages } from './lockfile.ts';

/** Text by name of its file. Every package that runs in service has one. */
export function licenceTexts(root: string): ReadonlyMap<string, string> {
  const shipped = lockedPackages().filter((one) => one.use !== 'test' && existsSync(join(root, one.place)));
  return new Map(shipped.map((one) => [fileOf(one), textOf(root, one)]));
}

const fileOf = ({ name, version }: Locked): string => `${name.replace('/', '__')}-${version}.txt`;

function textOf(root: string, one: Locked): string {
  const folder = join(root, one.place);
  const head = `${one.name} ${one.version}, ${one.licence}\n\n`;
  const files = readdirSync(folder).filter((name) => /^(licen[cs]e|copying|notice)([.-]|$)/i.test(name));
  if (files.length > 0)
    return (
      head +
      files
        .sort()
        .map((name) => readFileSync(join(folder, name), 'utf8'))
        .join('\n')
    );
  // Some packages keep their notice in what they say of themselves.
  const readme = existsSync(join(folder, 'README.md')) ? readFileSync(join(folder, 'README.md'), 'utf8') : '';
  const said = /^#+ licen[cs]e\s*$([\s\S]*?)(?=^#+ |(?![\s\S]))/im.exec(readme)?.[1]?.trim() ?? '';
  return head + (said.length > 100 ? `${said}\n` : `${noticeOf(folder, one)}\n`);
}

/** Of a package that brings no text: the licence by name, and whose it is. */
function noticeOf(folder: string, { licence }: Locked): string {
  const { author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
    readonly author?: string | { readonly name: string };
  };
  const name = typeof author === 'string' ? author : (author?.name ?? 'its authors');
  return `Copyright ${name}. The package brings no text of its licence; it says that it is ${licence}.`;
}
