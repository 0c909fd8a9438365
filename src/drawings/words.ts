/** Keys of the words of drawings. */

/** A part of a key for a value of the findings: `patient.pregnant` is `patient-pregnant`, `dangerSigns` is `danger-signs`. */
export function keyPart(value: string | number | boolean): string {
  return String(value)
    .replace('.', '-')
    .replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`);
}
