import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type FarmConfig, farmConfigSchema } from '../../../shared/config/farm.js';
import { readLog } from '../../../src/worlds/replay/read-log.js';
import { readReadings } from '../../../src/worlds/replay/read-readings.js';
import { HORIZON_H, type HoursTriple } from '../forecaster.js';
import { playScenario } from '../run-scenario.js';
import type { LogRow } from '../scenario.js';
import { pinball } from '../score.js';
import { createNapkinForecaster } from '../yardsticks/napkin-forecaster.js';

/** What the rule said of one tray at a full hour. */
interface Said extends HoursTriple {
  readonly t: number;
  readonly at: string;
  readonly tray: string;
}

/** An hour that the scorer judged: `rem` hours to the refill point, or `min` at least, in a dry-down of `until` hours to come. */
interface Origin {
  readonly at: number;
  readonly rem?: number;
  readonly min?: number;
  readonly until?: number;
  readonly cold: boolean;
}

/** The parts of the scorers that are used here; they stand outside the project. */
interface ScorerLib {
  attach<T extends { readonly at: number }>(
    origins: readonly T[],
    forecasts: readonly Said[],
  ): (T & { f: HoursTriple | null })[];
}
interface HouseLib {
  loadTruth(folder: string): unknown;
  joinScenario(
    truth: unknown,
    forecasts: readonly Said[],
    alerts: readonly never[],
  ): {
    rows: readonly { rem: number | null; covered: boolean; f: HoursTriple | null }[];
  };
}

const ignoreRow = (): void => undefined;
const BEYOND: HoursTriple = { p10: HORIZON_H, p50: HORIZON_H, p90: HORIZON_H };
/** Hours to go that count, as in the scorers. */
const COUNTED = { fromH: 1, toH: 72 } as const;

async function logRows(file: string, config: FarmConfig): Promise<LogRow[]> {
  if (!existsSync(file)) return [];
  const known = {
    trays: new Set(config.trays.map(({ id }) => id)),
    benches: new Set(config.benches.map(({ id }) => id)),
  };
  const logged = await readLog(file, known, ignoreRow);
  return logged.flatMap(({ atMs, event }) =>
    event.event === 'watered'
      ? [{ atMs, tray: event.tray, event: 'watered', ...(event.ml === undefined ? {} : { ml: event.ml }) }]
      : [],
  );
}

/** The rule HOUR on replay's input files in a folder, at each full hour. */
async function hourRuleOn(folder: string): Promise<Said[]> {
  const config = farmConfigSchema.parse(JSON.parse(readFileSync(join(folder, 'config.json'), 'utf8')));
  const probeIds = config.probes.map(({ id }) => id);
  const readings = await readReadings(join(folder, 'readings.csv'), probeIds, ignoreRow);
  const startMs = readings.atMs[0] ?? 0;
  const endMs = readings.atMs[readings.count - 1] ?? 0;
  const log = await logRows(join(folder, 'log.csv'), config);
  const rule = createNapkinForecaster('HOUR', config, startMs);
  const said: Said[] = [];
  playScenario({ readings, log, startMs, endMs }, [rule], (t) => {
    const at = new Date(t).toISOString();
    for (const { id: tray } of config.trays) said.push({ t, at, tray, ...rule.forecast(tray, t) });
  });
  return said;
}

const lossH = (f: HoursTriple, truthH: number): number =>
  (pinball(0.1, truthH, f.p10) + pinball(0.5, truthH, f.p50) + pinball(0.9, truthH, f.p90)) / 3;

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

const counts = (hours: number): boolean => hours >= COUNTED.fromH && hours <= COUNTED.toH;

/** Mean loss of the rule HOUR on the second greenhouse's truth, h, over the trays that are not covered, as its scorer has it. */
export async function hourOnHouseH(shared: string, truth: string, scores: string): Promise<number> {
  const house: HouseLib = await import(pathToFileURL(join(shared, 'second-house', 'score.mjs')).href);
  const losses: number[] = [];
  for (const name of readdirSync(truth)) {
    const input = join(scores, name, 'in');
    if (!existsSync(input)) continue;
    const { rows } = house.joinScenario(house.loadTruth(join(truth, name)), await hourRuleOn(input), []);
    for (const { rem, covered, f } of rows)
      if (!covered && rem !== null && counts(rem)) losses.push(lossH(f ?? BEYOND, rem));
  }
  return mean(losses);
}

/** Mean loss of the rule HOUR on a recorded set, h, over all dry-downs, cut at their ends as the scorer does. */
export async function hourOnRecordedH(
  shared: string,
  set: string,
): Promise<{ readonly later: number; readonly firstThree: number }> {
  const { attach }: ScorerLib = await import(pathToFileURL(join(shared, 'scoring', 'lib.mjs')).href);
  const judged = readFileSync(join(set, 'origins.jsonl'), 'utf8')
    .split('\n')
    .filter(Boolean)
    .map((line) => JSON.parse(line) as Omit<Origin, 'at'> & { at: string; series: string })
    .map((origin) => ({ ...origin, at: Date.parse(origin.at) }));
  const losses: { readonly cold: boolean; readonly lossH: number }[] = [];
  for (const series of new Set(judged.map((one) => one.series))) {
    const tray = series.toLowerCase().replace(/[^a-z0-9]+/g, '-');
    const said = await hourRuleOn(join(set, tray, 'in'));
    const origins = judged.filter((one) => one.series === series);
    for (const { rem, min = 0, until, cold, f } of attach(origins, said)) {
      const truthH = rem ?? min;
      const endH = until ?? min;
      if (!counts(truthH)) continue;
      const { p10, p50, p90 } = f ?? BEYOND;
      const cut = { p10: Math.min(p10, endH), p50: Math.min(p50, endH), p90: Math.min(p90, endH) };
      losses.push({ cold, lossH: lossH(cut, truthH) });
    }
  }
  const meanOf = (cold: boolean): number =>
    mean(losses.filter((one) => one.cold === cold).map((one) => one.lossH));
  return { later: meanOf(false), firstThree: meanOf(true) };
}
