/** What was sampled, as the laboratory reads it: the side and size of the lump, or the neck node with its level. */
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Matter, Moment } from '../moment.ts';

function said(moment: Moment, key: KeyIn<'laboratory'>, values: Readonly<Record<string, string>>): string {
  return moment.world.texts.render(moment.person.locale, `laboratory.${key}`, (name) => values[name] ?? '');
}

/** `R`, or `R UPPER` where the side has two lumps. */
function sideText(moment: Moment): string {
  return placed(
    moment,
    moment.world.texts.label(moment.person.locale, 'sideShort', moment.specimen?.target.side ?? ''),
  );
}

/** `RIGHT`, or `RIGHT UPPER`: for who has no slide to compare. */
function sideWord(moment: Moment): string {
  const { locale } = moment.person;
  const side = moment.world.texts.label(locale, 'side', moment.specimen?.target.side ?? '');
  return placed(moment, side.toLocaleUpperCase(locale));
}

function placed(moment: Moment, side: string): string {
  const target = moment.specimen?.target;
  if (!target) return '';
  if (target.kind === 'node' || target.place === null) return side;
  const { locale } = moment.person;
  return `${side} ${moment.world.texts.label(locale, 'place', target.place).toLocaleUpperCase(locale)}`;
}

/** `NODE L`, or the side alone. */
function shortText(moment: Moment): string {
  const side = sideText(moment);
  return isNode(moment) ? said(moment, 'sampled-node-short', { words: side }) : side;
}

/** `NECK NODE L level II`; the side as it is to be read. */
function nodeText(moment: Moment, side: string): string {
  const target = moment.specimen?.target;
  const known = target?.kind === 'node' ? target.level : null;
  const level = known === null ? '' : said(moment, known === 'low' ? 'sampled-low' : 'sampled-level', { words: known });
  return said(moment, 'sampled-node', { words: `${side}${level}` });
}

function isNode(moment: Moment): boolean {
  return moment.specimen?.target.kind === 'node';
}

/** `NECK NODE LEFT level II`, or `RIGHT thyroid lump`. */
function whereText(moment: Moment): string {
  const side = sideWord(moment);
  return isNode(moment) ? nodeText(moment, side) : said(moment, 'sampled-thyroid', { words: side });
}

function sizeText(moment: Moment): string {
  return (moment.specimen?.target.mm ?? []).join('x');
}

/** Values of the texts about a sample. */
export const sampledWords: NonNullable<Matter['values']> = {
  sampledWhere: { of: whereText, sample: 'NECK NODE RIGHT above the collarbone' },
  sampledShort: { of: shortText, sample: 'NODE R' },
  sampled: {
    of: (m) => (isNode(m) ? `${nodeText(m, sideText(m))} ${sizeText(m)}` : `${sideText(m)} ${sizeText(m)}`),
    sample: 'R 22x15x14',
  },
};
