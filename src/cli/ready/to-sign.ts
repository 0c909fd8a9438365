/** What can be signed, with its value in the programme in use, and how it stands: signed, lapsed or by nobody. */
import { writeDuration } from '../../content/duration.ts';
import type { Content } from '../../content/load.ts';
import type { Locale } from '../../content/texts.ts';
import type { Unsigned } from '../../conversation/event.ts';
import type { Programme } from '../../conversation/programme.ts';
import type { Person } from '../../conversation/world.ts';
import { type SignOff, signOffs } from '../../generated/sign-offs.ts';
import type { Signature } from '../../store/signatures.ts';
import { hashOf, languageId, readerOf, textsHash, textsOf } from '../readers.ts';

/** One thing to sign. */
export interface ToSign {
  readonly id: string;
  readonly kind: SignOff['kind'] | 'language';
  readonly what: string;
  /** In words, whole: who signs agrees to this. */
  readonly value: string;
  /** Of what is agreed to: another value has another one. */
  readonly hash: string;
}

/** How one thing stands. `lapsed`: the newest signature, where the value was changed behind it. */
export interface Stands extends ToSign {
  readonly signed: Pick<Signature, 'who' | 'at'> | null;
  readonly lapsed: Pick<Signature, 'who' | 'at'> | null;
}

/** Everything that can be signed: conventions by the order of the papers, then the languages. */
export function allToSign({ programme, sources }: Pick<Content, 'programme' | 'sources'>): readonly ToSign[] {
  return [...signOffs.map((one) => conventionOf(one, programme)), ...sources.locales.map(languageOf)];
}

function conventionOf(one: SignOff, programme: Programme): ToSign {
  const value = one.kind === 'programme' ? valueIn(programme, one.id) : one.value;
  // What a programme's own value is called may change: it is the value that was agreed to.
  const agreed = one.kind === 'programme' ? [one.id, value] : [one.id, one.what, value];
  return { ...one, value, hash: hashOf(agreed) };
}

/** The value at a path of the programme, in words. Throws on a path that the list has and the programme has not: a bug. */
function valueIn(programme: Programme, path: string): string {
  const [section = '', name = ''] = path.split('.');
  const missing = (): never => {
    throw new Error(`the programme has no ${path}`);
  };
  switch (section) {
    case 'inr':
      return `${programme.inrHours}h`;
    case 'laboratories':
      return programme.laboratories.map(({ id, slides }) => `${id} ${slides}`).join(', ');
    case 'durations':
      return writeDuration(programme.durations[name] ?? missing());
    case 'limits':
      return String(programme.limits[name] ?? missing());
    case 'urgencies': {
      const { climbMs, daytime, quiet } = programme.urgencies[name] ?? missing();
      const when = quiet ? 'by day only' : daytime ? 'climbs by day only' : 'day and night';
      return `${climbMs.map(writeDuration).join(', ')}, ${when}`;
    }
    default:
      return missing();
  }
}

/** All texts of a language as they are now: whoever has read them agrees that they say what the English ones say. */
function languageOf(locale: Locale): ToSign {
  const { tag, meta } = locale;
  const what = `${meta?.name ?? tag}, read by somebody who speaks it and works in a clinic`;
  const value = `${textsOf(locale).length} texts in locales/${tag}`;
  return { id: languageId(tag), kind: 'language', what, value, hash: textsHash(locale) };
}

/** How everything stands. A language needs no signature of which the package names a reader, while its texts are those that were read. */
export function standingOf(content: Content, signatures: readonly Signature[]): readonly Stands[] {
  const readers = new Map(
    content.sources.locales.flatMap((locale) => {
      const reader = readerOf(locale);
      return reader ? [[languageId(locale.tag), reader] as const] : [];
    }),
  );
  return allToSign(content).map((one) => {
    const own = signatures.filter(({ item }) => item === one.id);
    const reader = readers.get(one.id);
    const read = reader ? { who: reader.name, at: Date.parse(reader.on) } : null;
    const signed = own.findLast(({ hash }) => hash === one.hash) ?? (reader?.stands ? read : null);
    return { ...one, signed, lapsed: signed === null ? (own.at(-1) ?? read) : null };
  });
}

/** Counts what is unsigned. Languages count where somebody is written to in them; `en` is written to strangers. */
export function unsignedOf(
  content: Content,
  { signatures, roster }: { readonly signatures: readonly Signature[]; readonly roster: readonly Person[] },
): Unsigned {
  const open = standingOf(content, signatures).filter((one) => one.signed === null);
  const here = roster.filter((one) => one.state === 'joined');
  const spoken = new Set(['en', ...here.map(({ locale }) => locale.split('-')[0])]);
  const unread = new Set(open.map(({ id }) => id));
  return {
    conventions: open.filter(({ kind }) => kind !== 'language').length,
    languages: content.texts.languages
      .filter(({ tag }) => spoken.has(tag) && unread.has(languageId(tag)))
      .map(({ name }) => name),
  };
}
