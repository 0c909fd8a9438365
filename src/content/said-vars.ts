import { saidNumbers } from '../clinical/said-numbers.ts';

/**
 * Values that code hands over with a text instead of naming them in the registry, with their usual width, and the clinical numbers. A
 * placeholder
 * that is neither here nor in the registry would show as nothing, so the checker refuses it.
 */
export const saidVars: ReadonlyMap<string, string> = new Map([
  ...Object.entries(saidNumbers),
  ['expected', 'Send one of: 1 2 3 9'],
  ['replies', '1 2 3 4 9'],
  ['reply', '1'],
  ['word', 'REPORT'],
  ['who', 'Ada Tano'],
  ['by', 'Dr Tano'],
  ['from', '+000 555 0100'],
  ['voice', '+000 555 0100'],
  ['minutes', '25'],
  ['lateMinutes', '25'],
  ['doctor', 'Dr Tano'],
  ['answer', 'refer for surgery'],
  ['words', 'refer for surgery now'],
  ['about', 'neck-changed'],
  ['example', '47 1'],
  ['urgency', 'waiting'],
  ['what', 'receipt'],
  ['rung', '1'],
  ['count', '3'],
  ['page', '2'],
  ['pages', '4'],
  ['q', '47'],
  ['when', '14:10'],
  ['to', '17'],
  ['day', '26 MAR'],
  ['months', '6-12'],
  ['away', '14:05'],
  ['link', 'SMS'],
  ['language', 'English'],
  ['languages', '1 English 2 Kiswahili 3 Francais'],
  ['left', '400'],
  ['granted', '2000'],
  ['kept', '120'],
  ['said', 'what was sent'],
  ['numbers', '+000555010011, +000555010012'],
  ['head', '7KQ2M9X4T1BC'],
  ['site', 'KESU CLINIC'],
  ['number', '+000 555 0100'],
]);
