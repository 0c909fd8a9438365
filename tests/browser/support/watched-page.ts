/** A page of which is kept what it asked for, what it loaded, and what went wrong in it. */
import type { Browser, BrowserContextOptions, Page, Request } from 'playwright-core';

export interface WatchedPage {
  readonly page: Page;
  /** Addresses that the page asked for and that are not the line's. */
  readonly elsewhere: readonly string[];
  /** Errors of the page's program and of its console: a broken rule of the content policy is one. */
  readonly errors: readonly string[];
  /** Bytes that went over the wire until now, headers and all; what streams is not counted. */
  transferred(): Promise<number>;
  close(): Promise<void>;
}

/** Widths of a telephone, a tablet and a small laptop, CSS pixels, with the height that such a screen leaves. */
export const screens = [
  { width: 360, height: 640 },
  { width: 768, height: 1024 },
  { width: 1366, height: 768 },
] as const;

/** Opens the page of the line at `url`, in a context of its own, and waits until it stands. */
export async function watchPage(browser: Browser, url: string, options: BrowserContextOptions): Promise<WatchedPage> {
  const context = await browser.newContext({ reducedMotion: 'reduce', ...options });
  const page = await context.newPage();
  page.setDefaultTimeout(10_000);
  const elsewhere: string[] = [];
  const errors: string[] = [];
  const loaded: Request[] = [];
  const origin = new URL(url).origin;
  context.on('request', (request) => {
    const asked = request.url();
    if (!asked.startsWith(`${origin}/`) && !/^(data|blob|about):/.test(asked)) elsewhere.push(asked);
  });
  page.on('requestfinished', (request) => loaded.push(request));
  page.on('pageerror', (error) => errors.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') errors.push(message.text());
  });
  await page.goto(url);
  return {
    page,
    elsewhere,
    errors,
    // Weighed when asked for: what is weighed as it comes may be on its way while the page is closed.
    transferred: async () => (await Promise.all(loaded.map(bytesOf))).reduce((sum, one) => sum + one, 0),
    close: () => context.close(),
  };
}

async function bytesOf(request: Request): Promise<number> {
  const { responseHeadersSize, responseBodySize } = await request.sizes();
  return responseHeadersSize + responseBodySize;
}
