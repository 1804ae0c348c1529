import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
/** The rules on which a palette has a say. */
const COLOUR_RULES = ['color-contrast', 'link-in-text-block'];

/** What axe-core finds, by all of its rules: WCAG 2.2 A and AA and its own best practice; each with the element. */
export const violations = (tab: Page): Promise<string[]> => found(tab, { type: 'tag', values: TAGS });

/** What it finds in another light, where all but the colours has been judged already. */
export const colourViolations = (tab: Page): Promise<string[]> =>
  found(tab, { type: 'rule', values: COLOUR_RULES });

async function found(tab: Page, runOnly: { type: 'tag' | 'rule'; values: string[] }): Promise<string[]> {
  if (!(await tab.evaluate(() => 'axe' in window))) await tab.evaluate(axe);
  return tab.evaluate(async (only) => {
    const { axe: checker } = window as unknown as {
      axe: {
        run(options: object): Promise<{
          violations: { id: string; nodes: { html: string; failureSummary: string }[] }[];
        }>;
      };
    };
    const { violations: broken } = await checker.run({ runOnly: only });
    return broken.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 160)}`));
  }, runOnly);
}
