/** The whole table at every place, with one and with two patients open, on the pure step. */
import { wrongWith } from './everywhere.ts';
import { gotFirstAid } from './outcome.ts';
import { heardAt, type Place } from './places.ts';
import { withSecond } from './second-patient.ts';
import type { CorpusText } from './table.ts';

export interface Heard {
  readonly steps: number;
  /** `place: text: what is wrong`. */
  readonly faults: readonly string[];
  /** Alarms without first aid where a patient is at hand. */
  readonly unheard: readonly string[];
  /** Lures that got first aid, and where. */
  readonly lured: ReadonlyMap<string, readonly string[]>;
}

/** Where a patient is at hand: plain words of danger are heard. */
const bedside = /^(ready|sampling|labelling|aftercare|sos)\./;
const saysSos = /\bs\W?[o0]\W?s\b|emergency/i;

/** The text as it is sent here: with the tag of the patient who is asked about. */
export function textAt(place: Place, text: string): string {
  const asking = place.world.conversation.threads.findLast((one) => one.ask !== null);
  const of = place.world.cases.find((one) => one.id === asking?.caseId);
  const code = of?.specimens.find((one) => one.code !== null)?.code;
  return text.replaceAll('{tag}', of?.tag ?? 'AK').replaceAll('{code}', code ?? '29866010');
}

export function hearEverywhere(
  places: readonly Place[],
  second: Place,
  texts: readonly CorpusText[],
  lures: readonly string[],
): Heard {
  const faults: string[] = [];
  const unheard: string[] = [];
  const lured = new Map<string, string[]>();
  let steps = 0;
  const said = new Map(texts.map((one) => [one.text, one]));
  const looksLike = new Set(lures);
  const all = [...new Set([...said.keys(), ...lures])];
  for (const place of places) {
    const both = withSecond(place, second);
    for (const [here, where] of [
      [place, place.name],
      ...(both ? [[both, `${place.name}, two`] as const] : []),
    ] as const) {
      for (const raw of all) {
        const text = textAt(here, raw);
        const result = heardAt(here, text);
        steps += 1;
        const wrong = wrongWith(here, text, result);
        if (wrong) faults.push(`${where}: ${JSON.stringify(text)}: ${wrong}`);
        const aided = gotFirstAid(here, result);
        const is = said.get(raw)?.is.kind;
        if (looksLike.has(raw)) {
          if (aided) lured.set(raw, [...(lured.get(raw) ?? []), where]);
        } else if ((is === 'alarm' || is === 'first-aid') && !aided) {
          // `swelling` is an answer where an alarm asks what it is.
          if (place.name === 'sos.sign') continue;
          if (saysSos.test(text) || bedside.test(place.name) || here === both)
            unheard.push(`${where}: ${JSON.stringify(text)}`);
        }
      }
    }
  }
  return { steps, faults, unheard, lured };
}
