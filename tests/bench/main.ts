import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Measurement } from './measurement.js';
import { writeMeasurements } from './measurements-page.js';

const folder = dirname(fileURLToPath(import.meta.url));
const notMeasurements = new Set(['main.js', 'measurement.js', 'measurements-page.js', 'call-phone.js']);
const names = readdirSync(folder)
  .filter((file) => file.endsWith('.js') && !notMeasurements.has(file))
  .map((file) => file.slice(0, -3));

function usage(): string {
  return [
    'npm run bench -- NAME [options]',
    '',
    `NAME is one of: ${names.join(', ')}`,
    '`npm run bench -- NAME --help` says what it measures and takes.',
    '`npm run bench -- --write` runs the quick ones and writes them into tests/benchmark/measurements.md; `--write NAME ...` those, the others stay.',
  ].join('\n');
}

/** Runs one measurement by name: each is a file of this folder that exports `measurement`. */
async function main(): Promise<number> {
  const [name, ...options] = process.argv.slice(2);
  if (name === undefined || name === '--help') {
    console.log(usage());
    return 0;
  }
  if (name === '--write') {
    const unknown = options.find((chosen) => !names.includes(chosen));
    if (unknown !== undefined) {
      console.error(`There is no measurement "${unknown}".\n\n${usage()}`);
      return 2;
    }
    writeMeasurements(join(folder, 'main.js'), names, options);
    return 0;
  }
  const file = join(folder, `${name}.js`);
  if (!names.includes(name) || !existsSync(file)) {
    console.error(`There is no measurement "${name}".\n\n${usage()}`);
    return 2;
  }
  const { measurement } = (await import(pathToFileURL(file).href)) as { readonly measurement: Measurement };
  if (options.includes('--help')) {
    console.log(measurement.help);
    return 0;
  }
  const known = new Set(measurement.help.match(/--[a-z-]+/g) ?? []);
  const unknown = options.find((option) => option.startsWith('--') && !known.has(option));
  if (unknown !== undefined) {
    console.error(`"${name}" takes no ${unknown}.\n\n${measurement.help}`);
    return 2;
  }
  return (await measurement.run(options)) ?? 0;
}

process.exitCode = await main();
