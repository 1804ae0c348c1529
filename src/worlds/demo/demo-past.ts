import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { ProbeSample } from '../../monitor/ports/ports.js';
import type { VirtualBench } from './virtual-bench/virtual-bench.js';

/** The part of the pipeline that the past is played into. */
export interface PastPipeline {
  advanceTo(toMs: number): void;
  sample(sample: ProbeSample): void;
  trayEvent(event: TrayEvent, atMs: number): void;
  takeFacts(): Fact[];
}

export interface DemoPast {
  readonly bench: VirtualBench;
  readonly config: FarmConfig;
  /** Stands at the bench's start; the farm's trays are in it. */
  readonly pipeline: PastPipeline;
  readonly toMs: number;
  /** Instants of the rounds in the past, ascending. */
  readonly roundsMs: readonly number[];
  /** Trays that get only part of their dose at the last round, so that the first morning has something to say. */
  readonly partlyLast: readonly string[];
}

/** A tray is watered at a round when its moisture index (0 at refill, 1 at capacity) is at or below this. */
const WATERED_BELOW_INDEX = 0.6;
const POURED_SHARE = 1.2;
/** A partly watered tray is brought to this moisture index: through the night, but not through the next day. */
const PART_INDEX = 0.75;
const TIP_OUT_AFTER_H = 2;
/** The past is read this often at most: it has to be over in a second or two. */
const COARSEST_USEFUL_S = 900;

function walk({ bench, config, pipeline }: DemoPast, atMs: number, partly: readonly string[]): void {
  for (const { id } of config.trays) {
    const { moistureIndex, missingMl } = bench.truth(id);
    if (moistureIndex > WATERED_BELOW_INDEX) continue;
    const watered = { at: toInstant(atMs), tray: id, event: 'watered', by: 'jo' } as const;
    if (partly.includes(id)) {
      const share = (PART_INDEX - moistureIndex) / (1 - moistureIndex);
      const ml = Math.round((share * missingMl) / 10) * 10;
      bench.pour(id, ml, undefined);
      pipeline.trayEvent({ ...watered, ml }, atMs);
    } else {
      bench.pour(id, POURED_SHARE * missingMl, TIP_OUT_AFTER_H);
      pipeline.trayEvent(watered, atMs);
    }
  }
}

/**
 * Plays the days before the demo begins, so that the house knows its trays: readings straight from the bench, and a grower who keeps the rounds. Yields the facts of each hour; keep them, tell nobody.
 */
export function* playDemoPast(past: DemoPast): Generator<readonly Fact[]> {
  const { bench, config, pipeline, toMs } = past;
  const cadenceMs = Math.max(config.cadenceS, COARSEST_USEFUL_S) * 1000;
  const lastRoundMs = past.roundsMs[past.roundsMs.length - 1];
  let nextRound = 0;
  let yieldedMs = bench.nowMs();
  for (let atMs = bench.nowMs(); atMs < toMs; atMs += cadenceMs) {
    bench.step(atMs);
    pipeline.advanceTo(atMs - 1);
    for (const { id } of config.probes)
      pipeline.sample({ probeId: id, observedAtMs: atMs, rawValue: bench.readProbe(id) });
    pipeline.advanceTo(atMs);
    for (
      let round = past.roundsMs[nextRound];
      round !== undefined && round <= atMs;
      round = past.roundsMs[++nextRound]
    )
      walk(past, atMs, round === lastRoundMs ? past.partlyLast : []);
    if (atMs - yieldedMs < MS_PER_HOUR) continue;
    yieldedMs = atMs;
    yield pipeline.takeFacts();
  }
  yield pipeline.takeFacts();
}
