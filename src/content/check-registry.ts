/** The named pieces that flows and texts may use. What is left out is not checked, so content can come before its code. */
export interface CheckRegistry {
  readonly decisions?: ReadonlyMap<string, { readonly outcomes: readonly string[] }>;
  readonly recorders?: Names;
  /** Placeholders of texts. */
  readonly values?: Names;
  readonly readers?: Names;
  readonly instants?: Names;
  /** Typical rendered value by placeholder; six characters where there is none. */
  readonly samples?: ReadonlyMap<string, string>;
  /** Placeholders that code hands over with a text or that are a flow's working values; `saidVars` unless given. */
  readonly vars?: Names;
  /** Values that are shown whatever a caller hands over under their name. */
  readonly hiding?: Names;
  /** Transition names that the code sends besides doctors' answers, e.g. `result.filed`. */
  readonly events?: Names;
  /** Text keys that code uses, `file.key`; a `*` stands for any ending. */
  readonly textKeys?: readonly string[];
  /** What must be there, since the code was built with it. */
  readonly shipped?: ShippedNames;
}

/** Names that the code was built with: what it hands over to texts and flows, or reads from them. */
export interface ShippedNames {
  /** Texts without plural forms, by file. */
  readonly textKeys: Readonly<Record<string, readonly string[]>>;
  /** States by flow. */
  readonly stateNames: Readonly<Record<string, readonly string[]>>;
  /** Questions by `flow.state`: the field that they answer and its options, none for a field that is answered in words. */
  readonly asks: Readonly<Record<string, { readonly field: string; readonly options: readonly string[] }>>;
}

/** A set or a map, by its keys. */
export interface Names {
  has(name: string): boolean;
  keys(): Iterable<string>;
}
