import fc from 'fast-check';
import { type Findings, findingsChoices, type Nodule } from '../../src/clinical/findings.ts';

/** The seed of the random findings in these tests; fast-check prints it, and the path to the fault, on failure. */
export const seed = 20160113;

const sizeMm = fc.oneof(
  fc.constantFrom(4.9, 5, 9.9, 10, 10.1, 14.9, 15, 15.1, 20, 20.1, 24.9, 25),
  fc.integer({ min: 10, max: 600 }).map((tenths) => tenths / 10),
);
const choices = findingsChoices;

/** A nodule of which everything is known. */
export const fullNodule: fc.Arbitrary<Nodule> = fc.record({
  id: fc.constant('n1'),
  mm: sizeMm.map((mm) => [mm]),
  composition: fc.constantFrom('cystic', 'spongiform', 'mixed', 'solid'),
  spongiformWhole: fc.boolean(),
  solidPartMm: fc.constantFrom(5, 10, 10.1, 15, 15.1, 30),
  eccentric: fc.boolean(),
  echogenicity: fc.constantFrom('hyperechoic', 'isoechoic', 'hypoechoic', 'very-hypoechoic'),
  hypoechoicPart: fc.boolean(),
  shape: fc.constantFrom(...choices.shape),
  margin: fc.constantFrom(...choices.margin),
  capsule: fc.constantFrom(...choices.capsule),
  foci: fc.subarray([...choices.foci]),
});

const rarely = <T>(value: T[]) =>
  fc.oneof({ weight: 5, arbitrary: fc.constant<T[]>([]) }, { weight: 1, arbitrary: fc.subarray(value) });

/** A patient with one nodule of whom everything is known. A woman with a low TSH is known not to be pregnant. */
export const fullFindings: fc.Arbitrary<Findings> = fc.record({
  patient: fc.record({
    ageYears: fc.constantFrom(15, 18, 30, 70),
    sex: fc.constant('female' as const),
    pregnant: fc.constant('no' as const),
  }),
  dangerSigns: rarely([...choices.dangerSigns]),
  risks: rarely([...choices.risks]),
  bleeding: rarely([...choices.bleeding]),
  inr: fc.constantFrom(1, 2.8, 3.4),
  platelets: fc.constantFrom(19, 20, 200),
  tsh: fc.constantFrom('low', 'normal', 'normal', 'high'),
  scan: fc.constantFrom('hot', 'not-hot', 'not-hot', 'not-hot'),
  overactiveSigns: fc.boolean(),
  examined: fc.constantFrom(true, true, true, false),
  palpable: fc.boolean(),
  guidance: fc.boolean(),
  ultrasound: fc.record({ done: fc.constantFrom(true, true, true, false) }),
  nodules: fullNodule.map((nodule) => [nodule]),
});

/** The same findings with some answers taken away, as though nobody had asked. */
export function fewerAnswers(findings: Findings, seeds: readonly number[]): Findings {
  let place = 0;
  const keep = () => (seeds[place++ % seeds.length] ?? 0) > 3;
  const thin = <T extends object>(record: T, always: readonly string[] = []): T =>
    Object.fromEntries(Object.entries(record).filter(([key]) => always.includes(key) || keep())) as T;
  const thinned = thin(findings, ['nodules', 'patient', 'ultrasound']);
  return {
    ...thinned,
    patient: thin(findings.patient ?? {}, ['sex', 'pregnant']),
    ultrasound: thin(findings.ultrasound ?? {}),
    nodules: (findings.nodules ?? []).map((nodule) => thin(nodule, ['id'])),
  };
}

/** Random numbers from 0 to 9 that say which answers to take away. */
export const whichToKeep = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 30, maxLength: 30 });
