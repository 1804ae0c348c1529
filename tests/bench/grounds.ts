import { existsSync, mkdirSync, mkdtempSync, realpathSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type GroundRow, groundsTable } from '../benchmark/grounds/ground-row.js';
import { ownRow } from '../benchmark/grounds/own-rows.js';
import { plotSets } from '../benchmark/grounds/plot-origins.js';
import { recordedRows, secondHouseRows } from '../benchmark/grounds/shared-rows.js';
import { RECIPES } from '../benchmark/scenario-recipes.js';
import { type Measurement, optionNumber, optionValue } from './measurement.js';

const help = `Forecasts on every ground in one table: the own virtual bench on a fresh seed, the same shifted beyond the ranges that the
priors were set on, the second greenhouse on a salt of the day, and every recorded set. Pinball as a share of each rule's.

  --ground NAME,... own, shifted, house, recorded (default: all)
  --kinds N         kinds of scenario of the own bench, spread over all (default 6)
  --seed N          seed of the own bench (default: the day)
  --salt TEXT       salt of the second greenhouse (default: the day)
  --scenarios A,B   scenarios of the second greenhouse that are replayed and scored (default: all)
  --sets A,B        recorded sets (default: all)
  --shared FOLDER   where second-house, data and scoring stand (default: ../shared beside the project); scorers run from there
  --out FOLDER      working files (default: a new folder for temporary files)
  --plots           a picture per recorded set, forecast against what happened, in the out folder`;

const PROJECT = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');
const DEFAULT_KINDS = 6;
const GROUNDS = ['own', 'shifted', 'house', 'recorded'];

const listed = (options: readonly string[], name: string): readonly string[] =>
  optionValue(options, name)?.split(',') ?? [];

export const measurement: Measurement = {
  help,
  run: async (options) => {
    const today = new Date().toISOString().slice(0, 10);
    const chosen = listed(options, '--ground');
    const strange = chosen.find((name) => !GROUNDS.includes(name));
    if (strange !== undefined) {
      console.error(`There is no ground "${strange}"; there are ${GROUNDS.join(', ')}.`);
      return 2;
    }
    const wants = (name: string): boolean => chosen.length === 0 || chosen.includes(name);
    const kinds = optionNumber(options, '--kinds', DEFAULT_KINDS);
    const every = Math.max(1, RECIPES.length / kinds);
    const recipes = RECIPES.filter((_, i) => Math.floor(i / every) !== Math.floor((i - 1) / every));
    const seed = optionNumber(options, '--seed', Number(today.replaceAll('-', '')));
    const out = resolve(optionValue(options, '--out') ?? mkdtempSync(join(tmpdir(), 'grounds-')));
    mkdirSync(out, { recursive: true });
    const named = resolve(optionValue(options, '--shared') ?? join(PROJECT, '..', 'shared'));
    // The scorers know themselves by their own path: through a link they would do nothing.
    const shared = existsSync(named) ? realpathSync(named) : named;
    const product = `node ${join(PROJECT, 'dist', 'src', 'cli', 'main.js')}`;
    const rows: GroundRow[] = [];
    if (wants('own')) rows.push(ownRow(`own bench, seed ${seed}`, recipes, seed));
    if (wants('shifted'))
      rows.push(
        ownRow(
          `own bench shifted, seed ${seed}`,
          recipes.map((recipe) => ({ ...recipe, shifted: true })),
          seed,
        ),
      );
    const missing = ['second-house', 'data', 'scoring'].filter((name) => !existsSync(join(shared, name)));
    if (missing.length > 0)
      console.error(
        `${missing.map((name) => join(shared, name)).join(', ')} ${missing.length === 1 ? 'is' : 'are'} not there: without the second greenhouse and the recordings.`,
      );
    else {
      if (wants('house'))
        rows.push(
          ...(await secondHouseRows(
            shared,
            product,
            join(out, 'house'),
            optionValue(options, '--salt') ?? today,
            listed(options, '--scenarios'),
          )),
        );
      if (wants('recorded')) {
        const scores = join(out, 'recorded');
        rows.push(...(await recordedRows(shared, product, scores, listed(options, '--sets'))));
        if (options.includes('--plots')) console.error(plotSets(scores, out).join('\n'));
      }
    }
    console.log(groundsTable(rows));
    return undefined;
  },
};
