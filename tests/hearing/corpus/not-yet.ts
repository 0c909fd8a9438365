/** What the line does not hear yet as the table says, each with its reason. A text leaves this list with the change that mends it. */

interface NotYet {
  readonly why: string;
  /** `question: text`, with `, two` behind the question where two patients are open. */
  readonly texts: readonly string[];
}

export const notYet: readonly NotYet[] = [];

/** What is known to be wrong everywhere still. `is`: the fault, as it is printed. */
export const knownFaults: readonly { readonly what: string; readonly is: RegExp }[] = [];

/** Cries of languages that the line does not speak yet. */
export const otherTongues: readonly string[] = ['mgonjwa ameanguka hapumui vizuri'];
