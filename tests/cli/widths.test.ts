import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createProgram } from '../../src/cli/run-cli.js';
import { shownOn } from '../../src/cli/terminal/fitted.js';
import { everyCommand, nameOf } from '../helpers/command-examples.js';
import { misfits, showAt } from '../helpers/widths.js';

const WIDTHS = [40, 80, 200];

describe('what commands say fits the terminal', () => {
  it.each(WIDTHS)('the help of every command, %i columns', async (columns) => {
    const program = await createProgram(['manual']);
    const terminal = { isTTY: true, columns };
    for (const command of [program, ...everyCommand(program)]) {
      let text = '';
      command
        .configureOutput({
          writeOut: (part) => (text += shownOn(terminal, part, {})),
          getOutHelpWidth: () => columns,
        })
        .outputHelp();
      expect(misfits({ typed: [nameOf(command)], columns, isColoured: true, text })).toEqual([]);
      expect(text.length).toBeGreaterThan(40);
    }
  });

  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'drybell-widths-'));
    writeFileSync(
      join(folder, 'farm.json'),
      JSON.stringify({
        farm: 'alder-row',
        benches: [{ id: 'south' }],
        store: { folder: join(folder, 'data') },
      }),
    );
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each([
    ['estimate', 40, true],
    ['estimate', 80, false],
    ['status --config ../farm.json', 40, false],
    ['check --config ../farm.json', 40, true],
    ['check --config ../farm.json', 200, false],
    ['stauts', 40, false],
  ] as const)('%s on a real terminal of %i columns, colours: %s', async (typed, columns, isColoured) => {
    const shown = await showAt(typed.split(' '), columns, isColoured, folder);
    expect(shown.text.trim()).not.toBe('');
    expect(misfits(shown)).toEqual([]);
    if (typed === 'estimate') expect(shown.text.includes('\u001b')).toBe(isColoured);
  });
});
