/** The browser of the tests: Debian's Chromium. Its headless shell does the same work with fewer processes. */
import { accessSync, constants } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const places = ['/usr/bin/chromium-headless-shell', '/usr/bin/chromium'];

/** Path of the program; null = none is installed. */
export const chromiumPath: string | null =
  places.find((path) => {
    try {
      accessSync(path, constants.X_OK);
      return true;
    } catch {
      return false;
    }
  }) ?? null;

/** Opens it. Throws where none is installed. */
export function openChromium(): Promise<Browser> {
  if (chromiumPath === null) throw new Error(`no browser: ${places.join(', ')}`);
  return chromium.launch({
    executablePath: chromiumPath,
    args: [
      // As root Chromium refuses its own sandbox; the page is this project's.
      '--no-sandbox',
      // Whatever would be asked of another machine fails at once, and is seen as a request.
      '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1',
      '--disable-gpu',
    ],
  });
}
