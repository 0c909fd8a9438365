import { writeDuration } from '../content/duration.ts';
import type { Programme } from '../conversation/programme.ts';
import { escaped } from '../drawings/ink.ts';
import type { ClinicalNumber } from '../generated/clinical-numbers.ts';

/** Every clinical number with its source, by the headings of the list, room to agree to each. */
export function numbersShown(numbers: readonly ClinicalNumber[], programme: Programme): string {
  const headings = [...new Set(numbers.map(({ heading }) => heading))];
  return headings
    .map((heading) => {
      const rows = numbers.filter((one) => one.heading === heading).map((one) => rowOf(one, programme));
      const head = '<tr><th>What</th><th>Value</th><th>Source</th><th class="tick">Agreed, or instead</th></tr>';
      return `<h3>${escaped(heading)}</h3>\n<table>${head}\n${rows.join('\n')}</table>`;
    })
    .join('\n');
}

function rowOf({ what, value, key, source, file }: ClinicalNumber, programme: Programme): string {
  const own = ownValue(key, programme);
  const inUse = own === null ? '' : `<br><small>${escaped(`in this programme: ${own}`)}</small>`;
  const place = `<br><small>${escaped(key === '' ? file : `${file}, ${key}`)}</small>`;
  return `<tr><td>${escaped(what)}</td><td>${escaped(value)}${inUse}</td><td>${escaped(source)}${place}</td><td></td></tr>`;
}

/** What the programme in use has set; null = the number stands in the code, or is no duration and no limit. */
function ownValue(key: string, { durations, limits }: Programme): string | null {
  const ms = durations[key];
  if (ms !== undefined) return writeDuration(ms);
  return limits[key] === undefined ? null : String(limits[key]);
}

/** One thing that a clinician signs before patients depend on it. */
export interface Convention {
  readonly id: string;
  readonly what: string;
  readonly value: string;
}

/** All that is signed, with room for the letters of whoever agrees. */
export function conventionsShown(all: readonly Convention[]): string {
  const rows = all.map(
    ({ id, what, value }) =>
      `<tr><td><code>${escaped(id)}</code></td><td>${escaped(what)}</td><td>${escaped(value)}</td><td></td></tr>`,
  );
  const head = '<tr><th>Name</th><th>What</th><th>Value</th><th class="tick">Agreed, or instead</th></tr>';
  return `<table>${head}\n${rows.join('\n')}</table>`;
}
