/** Rows read at once: short reads let the engine tidy up in between. */
export const pageSize = 200;

/** Goes through rows in the order of their ids. `page` gives at most `pageSize` of them after the id. */
export async function eachPage<Row extends { readonly id: string }>(
  page: (after: string) => Promise<readonly Row[]>,
  look: (row: Row) => void,
): Promise<void> {
  for (let after = ''; ; ) {
    const rows = await page(after);
    for (const row of rows) look(row);
    if (rows.length < pageSize) return;
    after = rows.at(-1)!.id;
  }
}
