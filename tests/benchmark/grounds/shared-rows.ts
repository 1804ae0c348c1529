import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { GroundRow } from './ground-row.js';
import { hourOnHouseH, hourOnRecordedH } from './hour-rule.js';

/** What the scorers write of one forecaster; absent or null where it has nothing to say. */
interface ScorerFigures {
  readonly n?: number | null;
  readonly nAll?: number | null;
  readonly pinball?: number | null;
  readonly pinAll?: number | null;
  readonly coverage?: number | null;
  readonly medARE?: number | null;
  readonly medSigned?: number | null;
  readonly caught?: number | null;
  readonly falsePerTw?: number | null;
}
type Figures = Readonly<Record<string, ScorerFigures | undefined>>;

const known = (value: number | null | undefined): number | undefined => value ?? undefined;

function run(script: string, options: readonly string[], env: Readonly<Record<string, string>>): void {
  const done = spawnSync(process.execPath, [script, ...options], {
    env: { ...process.env, SCORE_NO_TIME: '1', ...env },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  // 1: the scorer's own verdict falls short, which the table shows
  if (done.status !== 0 && done.status !== 1)
    throw new Error(`${script} ended with ${done.status ?? done.signal}`);
}

function rowOf(ground: string, figures: Figures, all: boolean, hourH: number | undefined): GroundRow {
  const loss = (who: string): number | undefined => known(all ? figures[who]?.pinAll : figures[who]?.pinball);
  const product = figures['product'] ?? {};
  return {
    ground,
    forecasts: (all ? product.nAll : product.n) ?? 0,
    pinballH: loss('product') ?? Number.NaN,
    ruleH: {
      HABIT: loss('habit'),
      LINE: loss('line'),
      VPD: loss('vpd'),
      ANALOG: loss('analog'),
      HOUR: hourH,
    },
    inside: known(product.coverage),
    medianError: known(product.medARE),
    medianBias: known(product.medSigned),
    caught: known(product.caught),
    falsePerTrayWeek: known(product.falsePerTw),
  };
}

/** The second greenhouse on a salt, by its own scorer where that stands. */
export async function secondHouseRows(
  shared: string,
  product: string,
  out: string,
  salt: string,
  scenarios: readonly string[],
): Promise<GroundRow[]> {
  const env = { SECOND_OUT: join(out, 'truth'), SECOND_PRED: join(out, 'rules'), SECOND_SALT: salt };
  // all of them: its rules want every scenario there
  run(join(shared, 'second-house', 'sim.mjs'), [], env);
  const only = scenarios.flatMap((name) => ['--scenario', name]);
  run(
    join(shared, 'scoring', 'score-second-house.mjs'),
    ['--drybell', product, '--out', join(out, 'scores'), '--jobs', '1', ...only],
    env,
  );
  const { groups } = JSON.parse(readFileSync(join(out, 'scores', 'second-house.json'), 'utf8')) as {
    groups: Readonly<Record<string, Figures | undefined>>;
  };
  const hourH = await hourOnHouseH(shared, env.SECOND_OUT, join(out, 'scores'));
  return [rowOf(`second house, salt ${salt}`, groups['overall'] ?? {}, false, hourH)];
}

/** Recorded sets, by their scorer: all dry-downs after the third of a series, then the first three. */
export async function recordedRows(
  shared: string,
  product: string,
  out: string,
  sets: readonly string[],
): Promise<GroundRow[]> {
  run(
    join(shared, 'scoring', 'score-series.mjs'),
    ['--drybell', product, '--out', out, '--jobs', '1', ...sets.flatMap((name) => ['--set', name])],
    {},
  );
  const file = join(out, 'series.json');
  if (!existsSync(file)) throw new Error(`the scorer of recordings wrote no ${file}`);
  const scored = JSON.parse(readFileSync(file, 'utf8')) as {
    sets: Readonly<Record<string, { learned?: Figures; coldStart?: Figures } | undefined>>;
  };
  const rows: GroundRow[] = [];
  for (const [name, set] of Object.entries(scored.sets)) {
    const hourH = await hourOnRecordedH(shared, join(out, name));
    rows.push(
      rowOf(`${name}, later`, set?.learned ?? {}, true, hourH.later),
      rowOf(`${name}, first three`, set?.coldStart ?? {}, true, hourH.firstThree),
    );
  }
  return rows;
}
