/** Answers of a doctor that want no needle in this patient, or no more, by what was asked. */
const noes: { readonly [about: string]: readonly string[] | undefined } = {
  decision: ['follow-up', 'refer'],
  'decision-cyst': ['follow-up', 'refer'],
  'urgent-decision': ['refer'],
  'urgent-decision-cyst': ['refer'],
  'before-needle': ['other-day'],
  'too-many-attempts': ['stop', 'refer'],
  'fluid-came': ['stop', 'refer'],
};

/** Whether this answer to a question about this wants no needle, or no more. */
export function isNoToNeedle(about: string, answer: string): boolean {
  return noes[about]?.includes(answer) ?? false;
}
