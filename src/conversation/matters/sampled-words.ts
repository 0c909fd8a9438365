/** What was sampled, as the laboratory reads it: the side and size of the lump, or the neck node with its level. */
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';

function said(moment: Moment, key: KeyIn<'laboratory'>, values: Readonly<Record<string, string>>): string {
  return moment.world.texts.render(moment.person.locale, `laboratory.${key}`, (name) => values[name] ?? '');
}

/** `R`, or `R UPPER` where the side has two lumps. */
function sideText(moment: Moment): string {
  const target = moment.specimen?.target;
  if (!target) return '';
  const { texts } = moment.world;
  const { locale } = moment.person;
  const side = texts.label(locale, 'sideShort', target.side);
  if (target.kind === 'node' || target.place === null) return side;
  return `${side} ${texts.label(locale, 'place', target.place).toLocaleUpperCase(locale)}`;
}

/** `NODE L`, or the side alone. */
function shortText(moment: Moment): string {
  const side = sideText(moment);
  return moment.specimen?.target.kind === 'node' ? said(moment, 'sampled-node-short', { words: side }) : side;
}

/** `NECK NODE L level II`, or `R thyroid`. */
function whereText(moment: Moment): string {
  const target = moment.specimen?.target;
  const side = sideText(moment);
  if (target?.kind !== 'node') return said(moment, 'sampled-thyroid', { words: side });
  const level = target.level === null ? '' : said(moment, 'sampled-level', { words: target.level });
  return said(moment, 'sampled-node', { words: `${side}${level}` });
}

function sizeText(moment: Moment): string {
  return (moment.specimen?.target.mm ?? []).join('x');
}

/** Values of the texts about a sample. */
export const sampledWords: NonNullable<Matter['values']> = {
  sampledWhere: { of: whereText, sample: 'NECK NODE R level III' },
  sampledShort: { of: shortText, sample: 'NODE R' },
  sampled: {
    of: (m) =>
      m.specimen?.target.kind === 'node' ? `${whereText(m)} ${sizeText(m)}` : `${sideText(m)} ${sizeText(m)}`,
    sample: 'R 22x15x14',
  },
};
