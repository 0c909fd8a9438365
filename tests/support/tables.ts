/** The tables of a Markdown text, by the product's own reader. */
export { tableRows } from '../../src/content/markdown-table.ts';
