/**
 * What the line itself wrote into a history as JSON, read back as what it was. The only place that trusts a stored shape:
 * whoever changes such a shape reads the old one too.
 */
import type { Json } from './events.ts';

/** A stored value of this type; undefined where nothing was stored. */
export function storedAs<T>(value: Json | undefined): T | undefined {
  return value as unknown as T | undefined;
}

/** A plain value (data alone) as a history holds it. */
export function asJson(value: object | string | number | boolean | null): Json {
  return value as unknown as Json;
}
