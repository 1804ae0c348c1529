// Writes shared/schemas/*.schema.json and shared/asyncapi.json from the zod schemas; with --check it only compares, and fails on drift.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { contractSchemas } from './schemas.js';
import { asyncApiDocument } from './wire/asyncapi.js';

const folder = join(process.cwd(), 'shared/schemas');
const asyncApiFile = join(process.cwd(), 'shared/asyncapi.json');
const asyncApiText = `${JSON.stringify(asyncApiDocument(), null, 2)}\n`;
const check = process.argv.includes('--check');

const wanted = new Map(
  Object.entries(contractSchemas).map(([name, schema]) => [
    `${name}.schema.json`,
    `${JSON.stringify(
      { title: name, ...z.toJSONSchema(schema, { target: 'draft-2020-12', io: 'input' }) },
      null,
      2,
    )}\n`,
  ]),
);

const present = existsSync(folder) ? readdirSync(folder).filter((file) => file.endsWith('.schema.json')) : [];
const drifted = [
  ...[...wanted].filter(
    ([file, text]) => !present.includes(file) || readFileSync(join(folder, file), 'utf8') !== text,
  ),
].map(([file]) => file);
const orphaned = present.filter((file) => !wanted.has(file));

const asyncApiDrifted = !existsSync(asyncApiFile) || readFileSync(asyncApiFile, 'utf8') !== asyncApiText;

if (check) {
  if (asyncApiDrifted) console.error('shared/asyncapi.json differs from channels and schemas');
  for (const file of drifted) console.error(`shared/schemas/${file} differs from its zod schema`);
  for (const file of orphaned) console.error(`shared/schemas/${file} has no zod schema any more`);
  if (asyncApiDrifted || drifted.length + orphaned.length > 0) {
    console.error('Run: npm run build && npm run schemas');
    process.exitCode = 1;
  }
} else {
  mkdirSync(folder, { recursive: true });
  for (const [file, text] of wanted) writeFileSync(join(folder, file), text);
  writeFileSync(asyncApiFile, asyncApiText);
  for (const file of orphaned) rmSync(join(folder, file));
  console.log(`${wanted.size} schemas written to shared/schemas, and shared/asyncapi.json`);
}
