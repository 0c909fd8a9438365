/** The review sheet: all that the line says and all it goes by, in one page that needs nothing else. */
import type { CheckRegistry } from '../content/check-registry.ts';
import { textUses } from '../content/text-index.ts';
import { baseKey, baseLocale } from '../content/texts.ts';
import type { Flow } from '../conversation/flow.ts';
import type { Programme } from '../conversation/programme.ts';
import { escaped } from '../drawings/ink.ts';
import type { ClinicalNumber } from '../generated/clinical-numbers.ts';
import { septetsOf } from '../text/gsm7.ts';
import { flowDrawing } from './flow-drawing.ts';
import { inCaseOrder } from './flow-order.ts';
import { stepsOf, type Wording } from './flow-steps.ts';
import { type Convention, conventionsShown, numbersShown } from './numbers-shown.ts';
import { pageScript } from './page-script.ts';
import type { Pair } from './pairs.ts';
import { saidWhere } from './said-where.ts';
import { decidesNothing, signingRoom } from './signing.ts';
import { sheetStyle } from './style.ts';
import { anchorOf, type RowOf, textRow } from './text-row.ts';

export interface SheetOf {
  readonly made: {
    readonly version: string;
    /** Of all that the sheet shows. */
    readonly source: string;
    /** The only script that a browser may run, as its policy names it: `sha256-...`. */
    readonly scriptHash: string;
  };
  readonly programme: Programme;
  /** The language beside English; null = none. */
  readonly beside: { readonly tag: string; readonly name: string } | null;
  readonly pairs: readonly Pair[];
  readonly flows: readonly Flow[];
  readonly label: Wording['label'];
  readonly registry: CheckRegistry;
  readonly conventions: readonly Convention[];
  readonly numbers: readonly ClinicalNumber[];
}

interface Chapter {
  readonly id: string;
  readonly title: string;
  readonly body: string;
}

/** The whole page. What is anybody's words stands there as text, never as HTML. */
export function sheetHtml(of: SheetOf): string {
  const chapters = chaptersOf(of);
  const title = `Review sheet: ${of.programme.name}`;
  const policy = `default-src 'none'; style-src 'unsafe-inline'; script-src '${of.made.scriptHash}'`;
  return [
    '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<title>${escaped(title)}</title>\n<style>${sheetStyle}</style>\n</head>\n<body>`,
    bar,
    `<h1>${escaped(title)}</h1>`,
    introduction(of),
    `<nav><h2>Contents</h2><ul>${chapters.map(({ id, title: one }) => `<li><a href="#${escaped(id)}">${escaped(one)}</a></li>`).join('')}</ul></nav>`,
    ...chapters.map(
      ({ id, title: one, body }) => `<section id="${escaped(id)}">\n<h2>${escaped(one)}</h2>\n${body}\n</section>`,
    ),
    `<script type="application/json" id="facts">${factsOf(of)}</script>`,
    `<script>${pageScript}</script>\n</body>\n</html>\n`,
  ].join('\n');
}

const bar = [
  '<div id="bar" hidden><label>Your name: <input id="by" autocomplete="name"></label>',
  '<button id="save" type="button">Save the changes</button> <span id="count" role="status">0 changed</span>',
  '<label> Go on with a saved file: <input id="open" type="file" accept=".json"></label></div>',
].join(' ');

function introduction({ made, programme, beside, pairs, flows }: SheetOf): string {
  const languages =
    beside === null ? 'English, and room to write another language' : `English and ${beside.name} (${beside.tag})`;
  const changed = beside === null ? 'English' : beside.name;
  return [
    `<p>Made by neckline ${escaped(made.version)} for the programme ${escaped(programme.name)} (${escaped(programme.id)}), from ${flows.length} flows and ${pairs.length} texts and words, hash <code>${escaped(made.source)}</code>. ${escaped(languages)}.</p>`,
    `<p class="says"><b>${decidesNothing}</b></p>`,
    '<p>Each text is shown as its screens read on a phone, usual values put in, with what it takes of one message; a part of other texts keeps the names of its values. Names in braces, as {tag}, stand for values: they stay as they are, and so do the figures that people answer with. With a pen: tick what is right, write the change below it, sign below each flow and at the end.</p>',
    `<p>In a browser: open "Change" below a text to write what the ${escaped(changed)} should say and why (screens are parted by a line ===), write your name above, then "Save the changes". The file is sent to whoever keeps the line: <code>neckline check --changes FILE</code> reads it.</p>`,
  ].join('\n');
}

/** Files that hold something else than texts of one subject. */
const titles: Readonly<Record<string, string>> = {
  alarm: 'Words of danger: alarm',
  bench: "The bench's page: bench",
  cards: 'Printed cards: cards',
  cautions: 'What no translation drops: cautions',
  everyday: 'Words that everybody knows: everyday',
  glossary: 'Trade words: glossary',
  keywords: 'Words of the line: keywords',
  meta: 'About the language: meta',
  quick: 'Words of the quick text: quick',
  scenarios: 'Cases for practice: scenarios',
  words: 'Longer words, for W: words',
};

function chaptersOf(of: SheetOf): readonly Chapter[] {
  const rowOf: RowOf = {
    beside: of.beside?.tag ?? null,
    registry: of.registry,
    places: saidWhere(of.flows),
  };
  const names = new Set<string>(of.flows.map(({ name }) => name));
  const files = [...new Set(of.pairs.map(({ file }) => file))];
  const rowsOf = (file: string) => of.pairs.filter((one) => one.file === file).map((one) => textRow(one, rowOf));
  return [
    ...inCaseOrder(of.flows).map((flow) => ({
      id: `flow-${flow.name}`,
      title: `Flow ${flow.name}`,
      body: [
        flowDrawing(flow.name, stepsOf(flow, { programme: of.programme, label: of.label })),
        elsewhere(flow, of.pairs),
        ...rowsOf(flow.name),
        signingRoom(`flow ${flow.name}`),
      ].join('\n'),
    })),
    ...files
      .filter((file) => !names.has(file))
      .map((file) => ({
        id: `file-${file}`,
        title: titles[file] ?? `Other texts: ${file}`,
        body: rowsOf(file).join('\n'),
      })),
    { id: 'numbers', title: 'Clinical numbers and their sources', body: numbersShown(of.numbers, of.programme) },
    { id: 'conventions', title: 'What a clinician signs', body: conventionsShown(of.conventions) },
    {
      id: 'signed',
      title: 'Signatures',
      body: ['first reader', 'second reader'].map((one) => signingRoom(`the whole sheet, ${one}`)).join('\n'),
    },
  ];
}

/** Texts that a flow says and another file holds. */
function elsewhere(flow: Flow, pairs: readonly Pair[]): string {
  const keys = [...new Set(textUses(flow).map(({ key }) => key))].filter((key) => !key.startsWith(`${flow.name}.`));
  // A text of several forms has its rows under the names of the forms.
  const rowOf = (key: string) =>
    pairs.find((one) => one.kind === 'text' && `${one.file}.${baseKey(one.path[0]!)}` === key)?.key;
  const links = keys.flatMap((key) => {
    const row = rowOf(key);
    return row === undefined ? [] : [`<a href="#${anchorOf(row)}"><code>${escaped(key)}</code></a>`];
  });
  return links.length === 0 ? '' : `<p>It also says: ${links.join(', ')}</p>`;
}

/** What the script goes by, as JSON that no text can end. */
function factsOf({ made, beside, registry }: SheetOf): string {
  const signs = Array.from({ length: 0x2100 }, (_, code) => String.fromCharCode(code));
  const facts = {
    version: made.version,
    source: made.source,
    locale: beside?.tag ?? baseLocale,
    plain: signs.filter((one) => septetsOf(one) === 1).join(''),
    double: signs.filter((one) => septetsOf(one) === 2).join(''),
    samples: Object.fromEntries(registry.samples ?? []),
  };
  return JSON.stringify(facts).replaceAll('<', '\\u003c');
}
