/** Gathers what the review sheet shows. */
import { createHash } from 'node:crypto';
import { withSaidVars } from '../content/check-content.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import type { Content } from '../content/load.ts';
import { localeSources } from '../content/locale-sources.ts';
import { baseLocale } from '../content/texts.ts';
import { clinicalNumbers } from '../generated/clinical-numbers.ts';
import { pageScript } from '../review/page-script.ts';
import { pairsOf } from '../review/pairs.ts';
import { sheetHtml } from '../review/sheet.ts';
import { packageVersion } from './package-version.ts';
import { allToSign } from './ready/to-sign.ts';

/** The page of a sound package. `tag`: the language beside English; null = room to write. A language that is not there yet is an empty column. */
export function reviewSheet(content: Content, root: string, registry: CheckRegistry, tag: string | null): string {
  const [english, other] = [localeSources(root, baseLocale), tag === null ? null : localeSources(root, tag)];
  const name = content.sources.locales.find((one) => one.tag === tag)?.meta?.name;
  const sheet = {
    programme: content.programme,
    beside: tag === null ? null : { tag, name: name ?? tag },
    pairs: pairsOf(english, other),
    flows: [...content.flows.newest.values()],
    conventions: allToSign(content),
    numbers: clinicalNumbers,
  };
  return sheetHtml({
    ...sheet,
    made: {
      version: packageVersion(),
      source: sourceOf(content, root, tag),
      scriptHash: `sha256-${createHash('sha256').update(pageScript).digest('base64')}`,
    },
    label: (field, option) => content.texts.label(baseLocale, field, option),
    registry: withSaidVars(registry),
  });
}

/** A hash of the flows, the programme and the texts that a sheet in these languages shows. */
export function sourceOf(content: Content, root: string, tag: string | null): string {
  const languages = [baseLocale, ...(tag === null || tag === baseLocale ? [] : [tag])];
  const shown = [
    [...content.flows.newest.values()].map(({ name, hash }) => [name, hash]),
    content.programme,
    languages.map((one) => [...localeSources(root, one)]),
  ];
  return createHash('sha256').update(JSON.stringify(shown)).digest('hex').slice(0, 16);
}
