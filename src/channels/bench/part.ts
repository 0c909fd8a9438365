/** A part of the bench: what it answers, by path. */

/** What came with a request: `query` of a GET, `body` of a POST. */
export interface Asked {
  readonly query: URLSearchParams;
  readonly body: Readonly<Record<string, unknown>>;
}

/** Answered as JSON. */
export interface Answer {
  readonly status: number;
  readonly value: unknown;
}

export type Route = (asked: Asked) => Promise<Answer>;

export interface BenchPart {
  readonly get?: Readonly<Record<string, Route>>;
  readonly post?: Readonly<Record<string, Route>>;
  /** A text reached or left a phone, the clock moved, or a net was switched. */
  happened?(): void;
  /** The bench closes, or begins anew. */
  end?(): Promise<void>;
}

/** Tells every open page that something happened. */
export type Tell = (kind: string, what: unknown) => void;

export const ok = (value: unknown): Answer => ({ status: 200, value });

/** Refused, with words for the page. */
export const refused = (status: number, error: string): Answer => ({ status, value: { error } });
