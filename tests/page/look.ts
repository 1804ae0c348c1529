// Takes pictures of every view on a phone and on a desktop, for a person to look at: node dist/tests/page/look.js FOLDER
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { startPage } from '../../src/review/start-page.js';
import { DESKTOP, openBrowser, PHONE } from './browser.js';
import { createDemoFarm } from './demo-farm.js';

const folder = process.argv[2] ?? 'dist/looks';
const wanted = process.argv[3]?.split(',') ?? ['now', 'curves', 'curves/t1', 'water', 'probes', 'journal'];
mkdirSync(folder, { recursive: true });
const farm = await createDemoFarm();
const page = await startPage({
  config: farm.config,
  queries: farm.store,
  live: farm.feed,
  listenHost: '127.0.0.1',
  listenPort: 0,
});
const browser = await openBrowser();
for (const [size, context] of [
  ['phone', PHONE],
  ['desktop', DESKTOP],
] as const) {
  const tab = await browser.newPage(context);
  tab.on('console', (message) => console.log(size, message.text()));
  tab.on('pageerror', (error) => console.log(size, error.message));
  for (const view of wanted) {
    await tab.goto(`${page.address}#${view}`);
    await tab.waitForLoadState('networkidle').catch(() => undefined);
    await tab.waitForTimeout(900);
    const name = view.replace('/', '-');
    await tab.screenshot({ path: join(folder, `${size}-${name}.png`), fullPage: size === 'desktop' });
    if (size === 'phone') {
      await tab.setViewportSize({ width: 390, height: 2600 });
      await tab.screenshot({ path: join(folder, `${size}-${name}-long.png`) });
      await tab.setViewportSize({ width: 390, height: 844 });
    }
  }
}
await browser.close();
await page.close();
