/** What texts say about receipts and results. */
import { currentResult } from '../../case/case.ts';
import { quotedWords } from '../../text/one-line.ts';
import { dayWordsAt } from '../../text/time-words.ts';
import type { Instant, Matter, Moment } from '../moment.ts';
import { addDays, instantOf, localTime } from '../schedule.ts';
import { dayAt, laboratoryHere, textAnswer, zoneOf } from './common.ts';
import { sampledWords } from './sampled-words.ts';

function words(moment: Moment, key: string, value = ''): string {
  return moment.world.texts.has(key) ? moment.world.texts.render(moment.person.locale, key, () => value) : '';
}

/** Codes whose Thy name is near, not the same: more of the Italian 3A and 3B are cancer than their official bands say (Trimboli et al., Endocrine 2019;63:430). */
const nearOnly: ReadonlySet<string> = new Set(['TIR3A', 'TIR3B']);

function meaning(moment: Moment, canonical: string | undefined): string {
  return canonical === undefined
    ? ''
    : words(moment, `laboratory.meaning-${canonical.toLowerCase().replace('/', '-')}`);
}

/** ` (papillary)`, or nothing. Brackets inside go: nothing that a laboratory writes stands outside of ours. */
function inBrackets(text: string | undefined): string {
  const plain = quotedWords((text ?? '').replace(/[\p{Ps}\p{Pe}]/gu, ' '), 60).trim();
  return plain === '' ? '' : ` (${plain})`;
}

/** What to do better next time; a node is sucked, and half of its slides are dried. */
function adviceKey({ specimen }: Moment): string {
  const reason = specimen?.thy1Reason ?? 'other';
  const ofNode = specimen?.target.kind === 'node' && reason !== 'other';
  return `laboratory.advice-${ofNode ? 'node-' : ''}${reason}`;
}

/** The birth year on the slide proves a result; where none is known the initials do, and no laboratory is shown them. */
function provesByYear(moment: Moment): boolean {
  return typeof moment.case?.answers['patient.birthYear'] === 'number';
}

const instants: Readonly<Record<string, Instant>> = {
  'next-morning': (m) => {
    const zone = zoneOf(m);
    return instantOf(addDays(localTime(m.now, zone), 1), m.world.programme.daytime.from, zone);
  },
  'read-back-lapses': (m) => m.specimen?.readBack?.lapsesAt ?? null,
};

const values: NonNullable<Matter['values']> = {
  ...sampledWords,
  slideName: { of: (m) => (provesByYear(m) ? ` ${textAnswer(m, 'patient.initials')}` : ''), sample: ' AKO' },
  slidesSay: {
    of: (m) =>
      words(
        m,
        provesByYear(m) ? 'laboratory.slides-say' : 'laboratory.slides-say-initials',
        textAnswer(m, 'patient.initials'),
      ),
    sample: 'AKO + birth year',
  },
  slidesGot: { of: (m) => String(m.specimen?.receivedSlides ?? ''), sample: '4' },
  slidesSent: {
    of: (m) => String(m.specimen?.slides.filter((one) => one !== 'empty').length ?? ''),
    sample: '4',
  },
  /** Told, and not noted yet. */
  slidesNamed: { of: (m) => String(m.frame.vars.slidesNamed ?? ''), sample: '22', fromVar: true },
  systemExample: {
    of: (m) => {
      const { system } = laboratoryHere(m);
      const node = m.specimen?.target.kind === 'node';
      return words(m, `laboratory.example-${node ? 'node' : system.toLowerCase()}`);
    },
    sample: 'Thy.. with letter',
  },
  receivedDay: { of: (m) => (m.specimen?.receivedAt ? dayAt(m, m.specimen.receivedAt) : ''), sample: '16 MAR' },
  rejectReason: {
    of: (m) => m.world.texts.label(m.person.locale, 'reject-reason', m.specimen?.rejected ?? ''),
    sample: 'names not the same',
  },
  // As it was pencilled: the clinic's day.
  takenDay: {
    of: (m) => {
      const at = m.specimen?.takenAt ?? null;
      return at === null ? '' : dayWordsAt(at, zoneOf(m), m.world.texts.months(m.person.locale));
    },
    sample: '12 MAR',
  },
  challenge: { of: (m) => m.specimen?.readBack?.challenge ?? '', sample: '4718' },
  readBackCategory: { of: (m) => m.specimen?.readBack?.result.code ?? '', sample: 'Thy4' },
  readBackMeaning: {
    of: (m) => meaning(m, m.specimen?.readBack?.result.canonical),
    sample: 'SUSPICIOUS OF CANCER',
  },
  replaces: {
    of: (m) => {
      const before = m.specimen ? currentResult(m.specimen) : null;
      return before ? words(m, 'laboratory.replaces', `${before.result.code}, ${dayAt(m, before.at)}`) : '';
    },
    sample: '',
  },
  readBackWords: { of: (m) => inBrackets(m.specimen?.readBack?.result.words), sample: ' (papillary)' },
  slideQuote: {
    of: (m) => {
      const key = provesByYear(m) ? 'laboratory.quote-year' : 'laboratory.quote-initials';
      return words(m, key, m.specimen?.readBack?.challenge ?? '');
    },
    sample: 'the birth year on the SLIDE: YES 4718 19__',
  },
  resultCode: { of: (m) => (m.specimen ? (currentResult(m.specimen)?.result.code ?? '') : ''), sample: 'Thy4' },
  keepGlass: {
    of: (m) => {
      const types = m.specimen ? (currentResult(m.specimen)?.result.types ?? []) : [];
      return types.includes('lymphoma') || types.includes('anaplastic') ? words(m, 'laboratory.keep-glass') : '';
    },
    sample: ' Please keep one slide unstained.',
  },
  resultShown: {
    of: (m) => {
      const result = m.specimen ? currentResult(m.specimen)?.result : undefined;
      if (!result) return '';
      if (result.code === result.canonical) return result.code;
      const isNear = nearOnly.has(result.code);
      return `${result.code} (${isNear ? words(m, 'laboratory.near', result.canonical) : result.canonical})`;
    },
    sample: 'Thy4',
  },
  resultMeaning: {
    of: (m) => meaning(m, m.specimen ? currentResult(m.specimen)?.result.canonical : undefined),
    sample: 'SUSPICIOUS OF CANCER',
  },
  resultWords: {
    of: (m) => inBrackets(m.specimen ? currentResult(m.specimen)?.result.words : undefined),
    sample: ' (papillary)',
  },
  thy1Reason: {
    of: (m) => m.world.texts.label(m.person.locale, 'thy1-reason', m.specimen?.thy1Reason ?? ''),
    sample: 'few cells',
  },
  thy1Advice: {
    of: (m) => words(m, adviceKey(m)),
    sample: 'Next time: thinner needle, no suction, stop at once when blood shows.',
  },
};

/** The laboratory matter's values and instants. */
export const resultValues = { instants, values };
