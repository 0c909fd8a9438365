import type { Chance } from './chance.ts';

/** An invented patient: what is written on the slides, and what the laboratory will see. */
export interface Patient {
  readonly initials: string;
  readonly born: number | null;
  readonly age: number;
  readonly female: boolean;
  readonly result: string;
}

const letters = 'ABCDEFGHIJKLMNOPRSTUVWZ';

export function patientOf(chance: Chance, year: number): Patient {
  const age = 16 + chance.below(60);
  const result = chance.weighted({ Thy1: 15, Thy1c: 3, Thy2: 45, Thy2c: 3, Thy3a: 8, Thy3f: 8, Thy4: 9, Thy5: 9 });
  return {
    initials: `${letters[chance.below(letters.length)]}${letters[chance.below(letters.length)]}`,
    born: chance.happens(0.9) ? year - age : null,
    age,
    female: chance.happens(0.8),
    result,
  };
}

/** The quick text of this patient, more or less complete. */
export function quickText(chance: Chance, patient: Patient): string {
  const size = `${10 + chance.below(25)}x${8 + chance.below(10)}x${8 + chance.below(8)}`;
  const parts = [
    `NEW ${patient.initials} ${patient.born ?? patient.age} ${patient.female ? 'F' : 'M'}`,
    `${chance.pick(['R', 'L'])} ${size} ${chance.pick(['solid', 'mixed', 'cystic', 'solid'])} ${chance.pick(['hypo', 'iso', ''])}`,
    chance.pick(['irregular micro', 'smooth', '']),
    chance.pick(['TSH normal', 'TSH high', 'TSH normal', 'TSH low', '']),
    chance.pick(['felt linear', 'felt linear', 'linear']),
    chance.happens(0.9) ? 'signs 0' : '',
    chance.happens(0.9) ? 'risks 0 bleeding 0' : '',
  ];
  return parts
    .filter((one) => one.trim() !== '')
    .join(' ')
    .replace(/\s+/g, ' ');
}
