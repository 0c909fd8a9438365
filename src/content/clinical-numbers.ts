/** The list of clinical numbers, read from its paper. */
import type { ClinicalNumber } from '../generated/clinical-numbers.ts';
import { tableRows } from './markdown-table.ts';

/** Every row of `deploy/clinical-numbers.md`, with the heading above its table. */
export function clinicalNumbersOf(paper: string): readonly ClinicalNumber[] {
  return paper.split(/^(?=## )/m).flatMap((section) => {
    const heading = /^## (.*)/.exec(section)?.[1] ?? '';
    return tableRows(section).map((row) => ({
      heading,
      what: row.What ?? '',
      value: row.Value ?? '',
      file: row.File ?? '',
      key:
        row.File === 'flows/programme.yaml' ? (/`([a-z0-9-]+):/.exec(row['As it stands there'] ?? '')?.[1] ?? '') : '',
      source: row.Source ?? '',
    }));
  });
}
