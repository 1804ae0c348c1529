import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core finds, by all of its rules: WCAG 2.2 A and AA and its own best practice; each with the element. */
export async function violations(tab: Page): Promise<string[]> {
  await tab.evaluate(axe);
  return tab.evaluate(async () => {
    const { axe: checker } = window as unknown as {
      axe: {
        run(options: object): Promise<{
          violations: { id: string; nodes: { html: string; failureSummary: string }[] }[];
        }>;
      };
    };
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const { violations: found } = await checker.run({ runOnly: { type: 'tag', values: tags } });
    return found.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`));
  });
}
