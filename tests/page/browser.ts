import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { toolPath } from '../helpers/needs.js';

export const PHONE = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 2,
  isMobile: true,
  hasTouch: true,
} as const;
export const DESKTOP = { viewport: { width: 1280, height: 800 } } as const;

/** The installed Chromium as people have it, quiet and without a screen. */
export const openBrowser = (): Promise<Browser> => launch('chromium');

function launch(tool: string): Promise<Browser> {
  return chromium.launch({
    executablePath: toolPath(tool) ?? `/usr/bin/${tool}`,
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
}

/** Debian's Chromium without its own windows: a page opens in a third of the processor's time. */
const WITHOUT_WINDOWS = 'chromium-headless-shell';

/** Of this process, for all of its test files; they end with the process. */
const launched = new Map<string, Promise<Browser>>();

/**
 * The part of a browser that a test file has to itself: contexts share neither storage nor workers with those of others. The page's
 * service worker, a process more for each context, is there where a test asks for it (`serviceWorkers: 'allow'`).
 */
export interface TestBrowser {
  newContext: Browser['newContext'];
  newPage: Browser['newPage'];
  /** Closes every context that was opened here. */
  close(): Promise<void>;
}

/**
 * A browser for one test file.
 * @param need `whole` for what only a browser with windows does: push, the home screen
 */
export async function sharedBrowser(need: 'page' | 'whole' = 'page'): Promise<TestBrowser> {
  const tool = need === 'page' && toolPath(WITHOUT_WINDOWS) !== undefined ? WITHOUT_WINDOWS : 'chromium';
  const before = await launched.get(tool);
  if (before?.isConnected() !== true) launched.set(tool, launch(tool));
  const browser = await (launched.get(tool) as Promise<Browser>);
  const opened = new Set<BrowserContext>();
  const noted = (context: BrowserContext): BrowserContext => {
    opened.add(context);
    context.once('close', () => opened.delete(context));
    return context;
  };
  return {
    newContext: async (options) => noted(await browser.newContext({ serviceWorkers: 'block', ...options })),
    newPage: async (options) =>
      noted(await browser.newContext({ serviceWorkers: 'block', ...options })).newPage(),
    close: async () => {
      await Promise.all([...opened].map((context) => context.close()));
    },
  };
}

/**
 * Waits for lines that are drawn when the phone has time, for tables just opened, and for those that turn out to be pushed sideways:
 * what is judged is all there.
 */
export async function allDrawn(tab: Page): Promise<void> {
  await tab.waitForFunction(
    () =>
      document.querySelector('.is-to-come, details.table-of[open]:not(:has(table))') === null &&
      [...document.querySelectorAll('.table-scroll:not([tabindex])')].every(
        ({ scrollWidth, clientWidth, scrollHeight, clientHeight }) =>
          scrollWidth <= clientWidth + 1 && scrollHeight <= clientHeight + 1,
      ),
  );
}
