import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { farmConfigSchema } from '../../shared/config/farm.js';
import { readCommand } from '../../src/messaging/commands/read-command.js';

const readme = ['README.md', 'shared/phones.md', 'shared/running.md']
  .map((path) => readFileSync(path, 'utf8'))
  .join('\n');
const matches = (pattern: RegExp) => [...readme.matchAll(pattern)].map(([, text]) => text ?? '');

it('every configuration in the papers for growers fits the schema', () => {
  const blocks = matches(/```json\n([^`]*)```/g);
  expect(blocks.length).toBeGreaterThan(1);
  for (const block of blocks)
    farmConfigSchema.parse({ farm: 'alder-row', benches: [{ id: 'south' }], ...JSON.parse(block) });
});

it('every command in the papers for growers can be read', () => {
  const commands = matches(/`(\{"do":[^`]*\})`/g);
  expect(commands.length).toBeGreaterThan(1);
  expect(commands.filter((text) => !readCommand(text, undefined).ok)).toEqual([]);
});
