import { afterEach, expect, it, vi } from 'vitest';
import { runCli } from '../../src/cli/run-cli.js';

afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
});

async function said(...words: readonly string[]): Promise<string> {
  const lines: string[] = [];
  vi.spyOn(process.stderr, 'write').mockImplementation((text) => lines.push(String(text)) > 0);
  expect(await runCli(words)).toBe(2);
  return lines.join('');
}

it.each<[readonly string[], string]>([
  [['export', 'watering'], '"watering": expected one of readings, forecasts,'],
  [['export', 'watering'], 'Did you mean "waterings"?\n(drybell export --help tells more)\n'],
  [['journal', '--kind', 'watre'], '--kind "watre": expected one of all, water, calls,'],
  [
    ['look', 'logger.csv', '--side', '5'],
    '--side "5": expected "mini", a side of 10 to 300 mm such as 38, or in inches such as 1.5in\n',
  ],
  [['export'], 'A word is missing: <what>.\n'],
  [['curves', '--since'], '--since wants a word after it: --since <day>.\n'],
  [['backup'], '--out <file> is missing.\n'],
  [['watered', 'south', '--bneh', 'x'], 'There is no option --bneh.'],
  [
    ['check', '--confi'],
    'There is no option --confi. Did you mean --config?\n(drybell check --help tells more)\n',
  ],
  [['store-check', 'south'], 'store-check takes no word after it, and got 1;'],
  [['tray', 'new', '--bneh'], '(drybell tray new --help tells more)\n'],
])('drybell %j is answered in our words, with where to look', async (words, expected) => {
  const text = await said(...words);
  expect(text).toContain(expected);
  expect(text).not.toMatch(/^error:|argument|is invalid/);
});
