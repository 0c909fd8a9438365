/** Times as gateways write them. */

/** Epoch seconds or milliseconds, or written (`2030-03-04 08:00:00`, UTC unless it names its zone). */
export type TimeUnit = 'seconds' | 'milliseconds' | 'written';

const day = String.raw`\d{4}-\d\d-\d\d`;
const clock = String.raw`\d\d:\d\d:\d\d(?:\.\d+)?`;
const written = new RegExp(`^(${day})[ T](${clock})(Z|[+-]\\d\\d:?\\d\\d)?$`);

/** Epoch ms; null for what is no time. */
export function instantOf(text: string, unit: TimeUnit): number | null {
  if (unit !== 'written') {
    const at = /^\d{1,14}$/.test(text) ? Number(text) * (unit === 'seconds' ? 1000 : 1) : 0;
    return at > 0 ? at : null;
  }
  const parts = written.exec(text);
  const zone = (parts?.[3] ?? 'Z').replace(/^([+-]\d\d)(\d\d)$/, '$1:$2');
  const at = parts ? Date.parse(`${parts[1]}T${parts[2]}${zone}`) : Number.NaN;
  return Number.isNaN(at) ? null : at;
}
