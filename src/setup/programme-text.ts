/**
 * The programme of the answers: the package's file with its numbers and their sources, and the programme's own names in place
 * of the invented ones. A programme that is there already keeps what a clinician changed in it.
 */
import { type Document, isMap, isNode, isScalar, type Pair, parseDocument, type YAMLMap } from 'yaml';
import { policyIds } from '../clinical/policies/policy.ts';
import type { Answers, ClinicAnswers, LaboratoryAnswers } from './answers.ts';

const head = ` The programme's own choices, written by neckline setup from the package's file. Names, clinics, laboratories and the
 price come from the answers and are written anew by each setup; every other value may be changed here, and stays.
 Every number has its reason beside it. "Convention" = chosen by the makers of the line, not published: a clinician of the
 programme signs it off before patients depend on it. "Line convention" = about texting only, nothing clinical.
 Durations: a whole number and s, m, h or d. Each key is explained in deploy/programme.md.`;

/** Parts whose names flows and code read: a programme has all of them and no others. */
const namedParts = ['urgencies', 'durations', 'limits'] as const;

/** Comments of the package's file that are true of the invented programme only, by key; what is true of any takes their place. */
const comments: Readonly<Record<string, string>> = {
  voiceNumber: ' outside the line: somebody picks up. A clinic may have its own',
  price: ' of one segment of SMS, from the contract with the network',
};

/** Keys that older versions read, and this one refuses as unknown. */
const retired = ['agreed'] as const;

const plainRule = ': the plain rule of poorly equipped sites';

/**
 * `before`: the programme that is there, in YAML without faults; null = none yet. `shipped`: the package's.
 */
export function programmeText(answers: Answers, shipped: string, before: string | null): string {
  const own = parse(before ?? shipped);
  const source = parse(shipped);
  const { programme, price } = answers;
  own.commentBefore = head;
  const { id, name, zone, hospital, night, voiceNumber } = programme;
  for (const [key, value] of Object.entries({ id, name, zone, hospital, night, voiceNumber })) put(own, key, value);
  putLanguages(own, programme.languages);
  putPolicy(own, programme.policy);
  if (price) putPrice(own, price);
  else own.delete('price');
  own.set('sites', sitesNode(own, answers.clinics, zone));
  own.set('laboratories', laboratoriesNode(own, answers.laboratories, [own, source]));
  for (const part of namedParts) takeNames(own, source, part);
  for (const key of retired) own.delete(key);
  for (const key of ['sites', 'laboratories']) spaceBefore(own, key);
  // Lists as the package's file writes them, so that the two can be compared.
  return own.toString({ lineWidth: 0 }).replace(/^([^"'#\n]*: )\[ ([^[\]"'#\n]*) \]/gm, '$1[$2]');
}

/** A programme's text, line for line, with nothing where a key stood that only older versions read. */
export function withoutRetired(text: string): string {
  const lines = new RegExp(`^(?:${retired.join('|')}):.*(?:\\n[ \\t-].*)*`, 'gm');
  return text.replace(lines, (all) => all.replace(/[^\n]+/g, ''));
}

function parse(text: string): Document.Parsed {
  return parseDocument(text, { version: '1.2', schema: 'core' });
}

/** The value in its place, with the comment that stands there, or with the one that is true of every programme. */
function put(document: Document, key: string, value: unknown): void {
  const node = document.get(key, true);
  if (isScalar(node)) {
    node.value = value;
    if (comments[key] !== undefined) node.comment = comments[key];
  } else document.set(key, value);
}

/** Under the zone: a file of an older version has no such key. */
function putLanguages(document: Document, languages: readonly string[]): void {
  const node = document.createNode(languages);
  node.flow = true;
  node.comment = ' no other is offered or loaded; English is always there';
  if (!document.has('languages') && isMap(document.contents)) {
    const at = document.contents.items.findIndex((pair) => String(pair.key) === 'policy');
    document.contents.items.splice(at, 0, document.createPair('languages', node) as Pair<never, never>);
  } else document.set('languages', node);
}

/** The policy that governs is not among those that are shown besides. */
function putPolicy(document: Document, policy: string): void {
  const [before, shown] = [document.get('policy'), document.toJS().shown as unknown];
  put(document, 'policy', policy);
  const node = document.get('policy', true);
  if (isScalar(node) && before !== policy) node.comment = ` governs${policy === 'common-practice' ? plainRule : ''}`;
  if (before === policy && Array.isArray(shown) && !shown.includes(policy)) return;
  const others = document.createNode(policyIds.filter((one) => one !== policy));
  others.flow = true;
  others.comment = commentOf(document.get('shown', true)) ?? null;
  document.set('shown', others);
}

function putPrice(document: Document, price: NonNullable<Answers['price']>): void {
  const node = document.createNode(price);
  node.flow = true;
  node.comment = comments.price!;
  const had = document.has('price');
  document.set('price', node);
  if (had) pairOf(document, 'price').key.commentBefore = null;
}

/** One clinic a line, with what is its own and not the programme's. */
function sitesNode(document: Document, clinics: readonly ClinicAnswers[], zone: string): YAMLMap {
  const sites = document.createNode({}) as YAMLMap;
  for (const { id, name, laboratory, zone: ownZone, guidance, hospital, night, voiceNumber } of clinics) {
    const places = Object.entries({ hospital, night, voiceNumber }).filter(([, value]) => value !== undefined);
    const site = document.createNode({
      ...{ name, lab: laboratory, zone: ownZone ?? zone, guidance },
      ...Object.fromEntries(places),
    });
    site.flow = true;
    sites.set(id, site);
  }
  return sites;
}

/** A value that somebody gave a reason for, in these files, keeps the reason. */
function laboratoriesNode(
  document: Document,
  laboratories: readonly LaboratoryAnswers[],
  sources: readonly Document[],
): YAMLMap {
  const all = document.createNode({}) as YAMLMap;
  for (const { id, assays, ...rest } of laboratories) {
    const { name, address, stain, slides, fluid, alcohol, system, open, marking } = rest;
    const node = document.createNode({
      ...{ name, address, stain, slides, fluid, alcohol, system },
      ...(assays.length > 0 ? { assays } : {}),
      ...{ open, marking },
    }) as YAMLMap;
    for (const pair of node.items as Pair<{ value: string }, { flow?: boolean; comment?: string | null }>[]) {
      const value = pair.value!;
      if ('items' in value) value.flow = true;
      value.comment = reasonOf(sources, id, pair.key.value, JSON.stringify(value)) ?? null;
    }
    all.set(id, node);
  }
  return all;
}

/** The comment behind the same value of the same key, first of this laboratory, then of any. */
function reasonOf(sources: readonly Document[], id: string, key: string, value: string): string | undefined {
  const found = sources.flatMap((source) => {
    const all = source.get('laboratories');
    if (!isMap(all)) return [];
    const ids = all.items.map((pair) => String(isScalar(pair.key) ? pair.key.value : pair.key));
    const ordered = [...ids.filter((one) => one === id), ...ids.filter((one) => one !== id)];
    return ordered.flatMap((one) => {
      const node = source.getIn(['laboratories', one, key], true);
      return isNode(node) && JSON.stringify(node) === value && node.comment ? [node.comment] : [];
    });
  });
  return found.find((comment) => comment !== ' convention, as above');
}

/** Names that this version reads and the programme lacks come with their reasons; those that nobody reads any more go. */
function takeNames(own: Document, source: Document, part: (typeof namedParts)[number]): void {
  const [has, wanted] = [own.get(part), source.get(part)];
  if (!isMap(has) || !isMap(wanted)) return;
  const nameOf = (pair: Pair): string => String(isScalar(pair.key) ? pair.key.value : pair.key);
  const names = new Set(wanted.items.map(nameOf));
  has.items = has.items.filter((pair) => names.has(nameOf(pair)));
  for (const pair of wanted.items) if (!has.has(nameOf(pair))) has.items.push(pair.clone());
}

/** An empty line between parts is kept where a part was made anew. */
function spaceBefore(document: Document, key: string): void {
  pairOf(document, key).key.spaceBefore = true;
}

function pairOf(document: Document, key: string) {
  const pairs = (document.contents as YAMLMap).items as Pair<{
    value: string;
    spaceBefore?: boolean;
    commentBefore?: string | null;
  }>[];
  const pair = pairs.find((one) => one.key.value === key);
  if (!pair) throw new Error(`the programme has no ${key}`);
  return pair;
}

function commentOf(node: unknown): string | null | undefined {
  return isNode(node) ? node.comment : undefined;
}
