/** What a call of the gateway says under which names: in its address, and in the form, JSON or multipart of its body. */

/** Names and what they hold. A name of JSON is a path: `data.0.from`. */
export interface Fields {
  /** Null: it is not there, or holds no single value. */
  value(name: string): string | null;
  /** The same as octets, one character each: a header in an address is no text that could be decoded. */
  octets(name: string): string | null;
}

/** How a body is written. `plain`: it has no names, the whole of it is one value. */
export type BodyKind = 'plain' | 'form' | 'json' | 'multipart';

/** Most texts or reports in one call. Our convention. */
const itemsAtMost = 500;

/** Kind by the call's content type; where fields are `named`, a body that looks like JSON is read as such. */
export function bodyKindOf(contentType: string, body: string, named: boolean): BodyKind {
  const type = (contentType.split(';')[0] ?? '').trim().toLowerCase();
  if (type === 'application/x-www-form-urlencoded') return 'form';
  if (!named) return 'plain';
  if (type === 'multipart/form-data') return 'multipart';
  if (/[/+]json$/.test(type)) return 'json';
  return /^\s*[[{]/.test(body) ? 'json' : 'plain';
}

/** Fields of an address, or of a form: the part behind the `?`. */
export function fieldsOfQuery(query: string): Fields {
  const parameters = new URLSearchParams(query);
  return {
    value: (name) => parameters.get(name),
    octets: (name) => {
      const given = query.split('&').find((one) => one.startsWith(`${name}=`));
      if (given === undefined) return parameters.get(name);
      const octet = (_: string, code: string): string => String.fromCharCode(Number.parseInt(code, 16));
      return given
        .slice(name.length + 1)
        .replaceAll('+', ' ')
        .replace(/%([0-9a-f]{2})/gi, octet);
    },
  };
}

/** The first of several that has a field says what it holds. */
export function firstOf(...all: readonly Fields[]): Fields {
  const found = (read: (one: Fields) => string | null): string | null => {
    for (const one of all) {
      const value = read(one);
      if (value !== null) return value;
    }
    return null;
  };
  return { value: (name) => found((one) => one.value(name)), octets: (name) => found((one) => one.octets(name)) };
}

export interface CallFields {
  /** What belongs to the whole call. */
  readonly whole: Fields;
  /** One for each text or report. */
  readonly items: readonly Fields[];
}

/**
 * Reads a body. `each`: path of the list in JSON that holds several; null = the body is one, or a list itself. Null: it is
 * not what it says it is, or holds more than a call may.
 */
export async function readCall(
  kind: BodyKind,
  body: Buffer,
  contentType: string,
  each: string | null,
): Promise<CallFields | null> {
  switch (kind) {
    case 'plain':
      return { whole: nothing, items: [nothing] };
    case 'form':
      return alone(fieldsOfQuery(body.toString('utf8')));
    case 'multipart':
      return readMultipart(body, contentType);
    case 'json':
      return readJson(body, each);
  }
}

const nothing: Fields = { value: () => null, octets: () => null };

const alone = (fields: Fields): CallFields => ({ whole: fields, items: [fields] });

async function readMultipart(body: Buffer, contentType: string): Promise<CallFields | null> {
  try {
    const form = await new Response(new Uint8Array(body), { headers: { 'content-type': contentType } }).formData();
    const value = (name: string): string | null => {
      const given = form.get(name);
      return typeof given === 'string' ? given : null;
    };
    return alone({ value, octets: value });
  } catch {
    return null;
  }
}

function readJson(body: Buffer, each: string | null): CallFields | null {
  let json: unknown;
  try {
    json = JSON.parse(body.toString('utf8').replace(/^\ufeff/, ''));
  } catch {
    return null;
  }
  const listed = each === null ? json : at(json, each);
  const items = Array.isArray(listed) ? listed : [listed];
  return items.length > itemsAtMost ? null : { whole: fieldsOfJson(json), items: items.map(fieldsOfJson) };
}

function fieldsOfJson(json: unknown): Fields {
  const value = (path: string): string | null => single(at(json, path));
  return { value, octets: value };
}

/** The single value at a path of a JSON text, true and false as words; null: there is none, or it is no JSON. */
export function valueOfJson(text: string, path: string): string | null {
  try {
    const value = at(JSON.parse(text), path);
    return typeof value === 'boolean' ? String(value) : single(value);
  } catch {
    return null;
  }
}

/** What stands at a path; a name that itself holds points goes first. */
function at(json: unknown, path: string): unknown {
  const own = (of: unknown, name: string): unknown =>
    typeof of === 'object' && of !== null && Object.hasOwn(of, name)
      ? (of as Readonly<Record<string, unknown>>)[name]
      : undefined;
  const whole = own(json, path);
  return whole === undefined ? path.split('.').reduce(own, json) : whole;
}

/** A number too long to be held exactly is none: two ids that differ in their last digits would be the same. */
function single(value: unknown): string | null {
  if (typeof value === 'string') return value;
  return Number.isSafeInteger(value) ? String(value) : null;
}
