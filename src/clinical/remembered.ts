/*
 * What a pure function made of the same before is not made again: the same lump is weighed at each question about it, and by
 * one worker after the other.
 */

/** Lumps that are remembered by each that weighs them: more than a line sees in a day, and few enough for a small machine. */
export const nodulesKept = 1_000;

/** Remembers by a key, which must hold everything that `make` reads; at most so many, the one kept longest goes first. */
export function rememberedBy<Of extends readonly unknown[], Made extends object>(
  atMost: number,
  keyOf: (...of: Of) => string,
  make: (...of: Of) => Made,
): (...of: Of) => Made {
  const kept = new Map<string, Made>();
  return (...of) => {
    const key = keyOf(...of);
    const known = kept.get(key);
    if (known !== undefined) return known;
    const made = make(...of);
    if (kept.size >= atMost) kept.delete(kept.keys().next().value as string);
    kept.set(key, made);
    return made;
  };
}

/** Remembers by the object itself, which nobody changes, and a second word; as long as somebody holds the object. */
export function rememberedOf<Of extends object, Also, Made extends object>(
  make: (of: Of, also: Also) => Made,
): (of: Of, also: Also) => Made {
  const kept = new WeakMap<Of, Map<Also, Made>>();
  return (of, also) => {
    const ofThis = kept.get(of) ?? new Map<Also, Made>();
    const known = ofThis.get(also);
    if (known !== undefined) return known;
    const made = make(of, also);
    kept.set(of, ofThis.set(also, made));
    return made;
  };
}
