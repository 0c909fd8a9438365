/** How one gateway names things. A further gateway is one such value; nothing else of the channel changes. */
import type { Lane } from '../../conversation/effect.ts';
import type { TimeUnit } from './instant.ts';

/** What a gateway can be told about a text. */
export type SendField =
  | 'to'
  | 'from'
  | 'text'
  | 'coding'
  | 'validityMinutes'
  | 'priority'
  /** Our reference; comes back with the delivery report. */
  | 'reference'
  /** Address that the gateway calls with the delivery report. */
  | 'reportUrl'
  | 'user'
  | 'password';

/** How the log of a gateway writes down that a text came in, without the text. */
export interface AccessLog {
  /** Regular expression of such a line, with groups `time` (the network's), `id`, `from`, and `size` where it stands there. */
  readonly line: string;
  /** Epoch seconds or milliseconds, or written (`2030-03-04 08:00:00`, UTC unless it names its zone). */
  readonly time: TimeUnit;
}

/** The words of a gateway that answers 200 to whatever it is asked, and says the truth in its body. A word that is in none of the lists leaves it open whether the text went out. */
export interface SendResultMapping {
  /** Path in the JSON of the answer. */
  readonly status: string;
  readonly taken: readonly string[];
  readonly later: readonly string[];
  readonly never: readonly string[];
}

export interface GatewayMapping {
  readonly name: string;
  /**
   * Names of the fields of a call with a text from a phone; null = the gateway does not say. They are looked for in the
   * address, then in the body (form, multipart or JSON). In JSON a name is a path (`data.0.from`).
   */
  readonly inbound: {
    /** Path of a list in JSON that holds several texts; the other paths then begin at each. Null = one text, or a bare list. */
    readonly each: string | null;
    readonly from: string;
    readonly to: string | null;
    readonly id: string | null;
    readonly time: string | null;
    readonly timeUnit: TimeUnit;
    /** Null = the body of the call is the text. */
    readonly text: string | null;
    /** Holds the header of a part (3GPP TS 23.040, user data header) where parts come unjoined. */
    readonly header: string | null;
  };
  /** Null = the gateway keeps none that could be compared after an outage. */
  readonly accessLog: AccessLog | null;
  /** Names in a call with a delivery report, and the status words by what they mean. Unknown words change nothing. */
  readonly report: {
    /** As with texts. */
    readonly each: string | null;
    readonly reference: string;
    readonly status: string;
    /** What stands in the report address for the gateway to put the status in. */
    readonly statusHole: string;
    readonly accepted: readonly string[];
    readonly delivered: readonly string[];
    readonly failed: readonly string[];
  };
  readonly send: {
    /** `text`: the body is the text, all else are headers; `form` and `json`: all are fields of the body. */
    readonly body: 'text' | 'form' | 'json';
    /** Names of the fields; in JSON a name is a path (`messages.0.to`), and a number in it a place in a list. */
    readonly put: Readonly<Partial<Record<SendField, string>>>;
    /** Of those, what JSON writes as a number. */
    readonly numbers: readonly SendField[];
    /** What is said with every text, by the same names. Only JSON has more than words. */
    readonly fixed: Readonly<Record<string, string | number | boolean>>;
    /** Headers with every call; `{user}` and `{password}` in a value stand for those of the settings. */
    readonly headers: Readonly<Record<string, string>>;
    /** User and password by basic authentication. */
    readonly basic: boolean;
    readonly coding: { readonly 'GSM-7': string; readonly 'UCS-2': string };
    readonly priority: Readonly<Record<Lane, string>>;
    /** HTTP answers that say it is taken; with `result` they say only that the call was understood. */
    readonly taken: readonly number[];
    /** Where the body of such an answer says what became of the text. Null = the HTTP answer says all. */
    readonly result: SendResultMapping | null;
    /** HTTP answers that say not now. */
    readonly later: readonly number[];
    /** HTTP answers that say never, for this text. Any other answer leaves it open whether it went out. */
    readonly never: readonly number[];
    /** Long texts are sent whole and joined by the phone; else each part is sent alone, numbered. */
    readonly joins: boolean;
    /** Parts that the gateway sends at most of one text; it cuts the rest without a word. */
    readonly partsAtMost: number;
  };
}
