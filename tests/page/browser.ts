import { type Browser, chromium, type Page } from 'playwright-core';
import { toolPath } from '../helpers/needs.js';

export const PHONE = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 2,
  isMobile: true,
  hasTouch: true,
} as const;
export const DESKTOP = { viewport: { width: 1280, height: 800 } } as const;

/** The installed Chromium, quiet and without a screen. */
export async function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: toolPath('chromium') ?? '/usr/bin/chromium',
    args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
}

/** Waits for lines that are drawn when the phone has time, and for tables just opened: what is judged is all there. */
export async function allDrawn(tab: Page): Promise<void> {
  await tab.waitForFunction(
    () => document.querySelector('.is-to-come, details.table-of[open]:not(:has(table))') === null,
  );
}
