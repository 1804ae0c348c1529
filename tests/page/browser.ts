import { type Browser, chromium } from 'playwright-core';
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
