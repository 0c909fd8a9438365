/** Old faults, put back: each a small change of the product that the walker has to see. */
import { invariants } from '../invariants.ts';

export interface WalkerMutant {
  /** What goes wrong with it, in the trade's words. */
  readonly name: string;
  readonly changes: readonly {
    /** From the root of the repository. */
    readonly file: string;
    /** Stands once in the file. */
    readonly is: string;
    readonly becomes: string;
  }[];
  /** Names of the invariants of which at least one has to be broken. */
  readonly breaks: readonly [string, ...string[]];
}

export const mutants: readonly WalkerMutant[] = [
  {
    name: 'a side that nobody said is the right one',
    changes: [
      {
        file: 'src/case/target.ts',
        is: "return side === 'unknown' ? null : side;",
        becomes: "return side === 'left' || side === 'isthmus' ? side : 'right';",
      },
      {
        file: 'src/case/target.ts',
        is: 'return more === undefined ? (only ?? null) : null;',
        becomes: "return 'right';",
      },
    ],
    breaks: [
      'the side of a specimen is one that was felt or measured',
      'pencil line, label, request, read-back and result name the same code, side and size',
    ],
  },
  {
    name: 'an urgent needle gets no code, and what comes after a needle is said all the same',
    changes: [
      {
        file: 'src/conversation/matters/ready.ts',
        is: 'const missing = targets.filter(',
        becomes: "const missing = (of.decided?.decision === 'refer-urgent' ? [] : targets).filter(",
      },
    ],
    breaks: ['are walked without a text that the line cannot handle'],
  },
  {
    name: 'the lump that was sent first says whether all others are felt',
    changes: [
      {
        file: 'src/clinical/place.ts',
        is: 'if (nodule.palpable !== null || palpable !== true) return nodule.palpable ?? palpable;',
        becomes: 'if (palpable !== null) return nodules?.[0]?.palpable ?? palpable;',
      },
    ],
    breaks: [
      'no needle for a child, noisy breathing, a hot nodule, a bleeding stop, what beats, or what is not felt without guidance',
    ],
  },
  {
    name: 'the doctor is asked to decide without the reason',
    changes: [
      {
        file: 'locales/en/doctor.json',
        is: '"decision": [\n    "{goesOn}Q{q} DECIDE {whoShort}, {site}{alarmSaid}. Why: {why}.{notAsked}',
        becomes: '"decision": [\n    "{goesOn}Q{q} DECIDE {whoShort}, {site}{alarmSaid}.{notAsked}',
      },
    ],
    breaks: ['every reason in the record stands in the texts of worker and doctor'],
  },
  {
    name: 'a quick text loses the thinner that it said',
    changes: [
      {
        file: 'src/conversation/matters/quick-fields.ts',
        is: '    const items = textsOf(list.value);\n    const whole',
        becomes: "    const items = field === 'bleeding' ? [] : textsOf(list.value);\n    const whole",
      },
    ],
    breaks: [
      'every sign, risk and medicine that was said is in the record when it is decided',
      'nothing unknown is told as absent, and nothing that was said is denied',
    ],
  },
  {
    name: 'danger signs and an INR of weeks ago count on the day of the needle',
    changes: [
      {
        file: 'src/conversation/matters/another-day.ts',
        is: "return !isKnown(of, 'dangerSigns') || changeable.some((fields) => isOfEarlierDay(moment, of, fields));",
        becomes: "return !isKnown(of, 'dangerSigns');",
      },
    ],
    breaks: ['on the day of the needle danger signs, pregnancy, INR and platelets are asked again'],
  },
  {
    name: 'the pencil line says neither side nor size',
    changes: [
      {
        file: 'locales/en/ready.json',
        is: 'CODE, {lumpShort}, {slideNumbers}.',
        becomes: 'CODE, {slideNumbers}.',
      },
    ],
    breaks: ['pencil line, label, request, read-back and result name the same code, side and size'],
  },
  {
    name: 'a known stop is weighed behind the steps that are not done, so that they are asked for without end',
    changes: [
      {
        file: 'src/clinical/gates.ts',
        is: '  knownStopsGate,\n  mandatoryStepsGate,\n',
        becomes: '  mandatoryStepsGate,\n  knownStopsGate,\n',
      },
    ],
    breaks: ['a known stop is said as such, and no step that cannot change it is asked for'],
  },
  {
    name: 'the laboratory reads every side back as the left one',
    changes: [
      {
        file: 'src/conversation/matters/sampled-words.ts',
        is: "moment.world.texts.label(moment.person.locale, 'sideShort', moment.specimen?.target.side ?? '')",
        becomes: "moment.world.texts.label(moment.person.locale, 'sideShort', 'left')",
      },
    ],
    breaks: ['pencil line, label, request, read-back and result name the same code, side and size'],
  },
  {
    name: 'a neck node that beats is asked about until it does not',
    changes: [
      {
        file: 'flows/node.yaml',
        is: 'still: begin\n      beats: { record: node-not-needled, say: beats-no-needle, target: left }',
        becomes: 'still: begin\n      beats: begin',
      },
      { file: 'src/conversation/matters/node.ts', is: 'if (beats) return', becomes: 'if (beats === null) return' },
    ],
    breaks: [
      'no needle for a child, noisy breathing, a hot nodule, a bleeding stop, what beats, or what is not felt without guidance',
    ],
  },
  {
    name: 'a neck node just above the collarbone gets its needle without ultrasound',
    changes: [
      {
        file: 'flows/node.yaml',
        is: 'target: begin }\n      blind: { record: node-not-needled, say: low-no-needle, target: left }',
        becomes: 'target: begin }\n      blind: begin',
      },
      { file: 'src/conversation/matters/node.ts', is: 'if (blind) return', becomes: 'if (blind === null) return' },
    ],
    breaks: [
      'no needle for a child, noisy breathing, a hot nodule, a bleeding stop, what beats, or what is not felt without guidance',
    ],
  },
  {
    name: 'who leaves the line hands no patient over',
    changes: [
      {
        file: 'src/conversation/standing.ts',
        is: '  if (!to) return null;\n  const threads',
        becomes: '  if (!to || heir === null) return null;\n  const threads',
      },
    ],
    breaks: ['a case is closed, or owed by somebody who can be reached, with a time'],
  },
];

/** The walker itself is stuck, or the line is. */
const crash = 'are walked without a text that the line cannot handle';

/** Names that no invariant has: a mutant that waits for one of them proves nothing. */
export const unknownNames = (): readonly string[] =>
  mutants.flatMap(({ breaks }) =>
    breaks.filter((name) => name !== crash && !invariants.some((one) => one.name === name)),
  );
