/**
 * Results of a lymph node, in the published system of five categories (Sydney 2020: names and actions as given in J Pathol
 * Transl Med, jpatholtm.org 17073). They are no thyroid categories and are never converted to one.
 */

/** The categories, from unreadable to malignant. */
export const NODE_CODES = ['L1', 'L2', 'L3', 'L4', 'L5'] as const;
/** One of {@link NODE_CODES}. */
export type NodeCode = (typeof NODE_CODES)[number];

/** Whether a stored code is a node's. */
export function isNodeCode(code: string): code is NodeCode {
  return (NODE_CODES as readonly string[]).includes(code);
}

/** Meaning in our words. L2 holds infections, tuberculosis among them: it is no all-clear. */
export const NODE_MEANINGS: { readonly [code in NodeCode]: string } = {
  L1: 'lymph node, inadequate: too little to read',
  L2: 'lymph node, benign: reactive, or an infection such as tuberculosis',
  L3: 'lymph node, atypical: cells of uncertain meaning',
  L4: 'lymph node, suspicious of malignancy',
  L5: 'lymph node, malignant',
};

/** The next thing to do for a node. */
export type NodeAction =
  | 'repeat-or-tissue'
  | 'tissue-after-second'
  | 'treat-infection'
  | 'follow-up'
  | 'tissue-and-tests'
  | 'by-type';

/** What a node's category asks for. */
export interface NodeAdvice {
  readonly next: NodeAction;
  /** Calendar days from the result, at the latest. */
  readonly latestDays: number;
  /** How soon a doctor has to have acknowledged. */
  readonly acknowledge: 'today' | 'routine';
  readonly source: string;
}

const SYDNEY = 'Sydney 2020 actions: J Pathol Transl Med, jpatholtm.org 17073; times: our convention';

const ADVICE: { readonly [code in NodeCode]: NodeAdvice } = {
  L1: { next: 'repeat-or-tissue', latestDays: 14, acknowledge: 'routine', source: SYDNEY },
  L2: { next: 'follow-up', latestDays: 28, acknowledge: 'routine', source: `${SYDNEY}; look again: our convention` },
  L3: { next: 'tissue-and-tests', latestDays: 7, acknowledge: 'today', source: `${SYDNEY}; today: our convention` },
  L4: { next: 'tissue-and-tests', latestDays: 2, acknowledge: 'today', source: `${SYDNEY}; urgent: our convention` },
  L5: { next: 'by-type', latestDays: 0, acknowledge: 'today', source: `by type: from memory; ${SYDNEY}` },
};

/**
 * What a node's result asks for. `infection`: tuberculosis or a granuloma was named, which sits in the benign category and is
 * treated. `lymphoma`: it was named, whatever the category: tissue of the node, today (a smear alone does not settle it:
 * PMC9532007, core sensitivity 94 % against 48 %). `tumour`: any tumour was named, which a node that is called benign or not
 * readable contradicts: the same (our convention). `earlierInadequate`: samples of before that could not be read; after one
 * there is no second blind repeat, but tissue (our convention, as for the thyroid).
 */
export function nodeAdvice(
  code: NodeCode,
  named: { readonly infection: boolean; readonly lymphoma: boolean; readonly tumour: boolean },
  earlierInadequate = 0,
): NodeAdvice {
  const advice = ADVICE[code];
  const contradicts = named.tumour && (code === 'L1' || code === 'L2');
  if (named.lymphoma || contradicts)
    return { ...ADVICE.L4, latestDays: Math.min(advice.latestDays, ADVICE.L4.latestDays) };
  if (code === 'L2' && named.infection) {
    return { next: 'treat-infection', latestDays: 3, acknowledge: 'today', source: SYDNEY };
  }
  if (code === 'L1' && earlierInadequate > 0)
    return { ...advice, next: 'tissue-after-second', source: 'our convention' };
  return advice;
}

/** Share of cancers among aspirates of a category, percent, in two series; they part widely, so both are told. */
export const NODE_RISK: {
  readonly [code in NodeCode]: readonly { readonly percent: number; readonly source: string }[];
} = {
  L1: series(9.1, 27),
  L2: series(1.5, 3),
  L3: series(37.5, 50),
  L4: series(96.9, 100),
  L5: series(98.2, 100),
};

function series(all: number, guided: number): readonly { readonly percent: number; readonly source: string }[] {
  return [
    { percent: all, source: '1,205 aspirates, PMID 34957622' },
    { percent: guided, source: '363 ultrasound-guided aspirates, Madrid repository 57259' },
  ];
}
