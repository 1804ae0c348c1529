import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import type { ClimateOutlook, FarmModelSpec, ProbeSpec } from '../../../drying/model/farm-model.js';
import { createFarmModel } from '../../../drying/whole/create-farm-model.js';
import type { Chunk } from '../../../monitor/day/chunk.js';
import type { CoreParts } from '../../../monitor/day/core/core-parts.js';
import type { DayInput } from '../../../monitor/day/core/day-input.js';
import { FarmCore } from '../../../monitor/day/core/farm-core.js';
import { Day, NotCarriedOut } from '../../../monitor/day/day.js';
import { reopenDay } from '../../../monitor/day/reopen-day.js';
import { Pipeline } from '../../../monitor/pipeline.js';
import { agreeOnTrays } from '../../../monitor/start/agree-on-trays.js';
import { createRoundCalendar, createUtcOffset } from '../../../monitor/time/create-round-calendar.js';
import { createQuietHours } from '../../../monitor/time/quiet-hours.js';
import { createProbeJudge } from '../../../sensing/probe-judge.js';
import { createWateringDesk } from '../../../watering/create-watering-desk.js';
import { createSpeech } from '../../../watering/sentences/speech.js';

/** Seed of the forecasts' random numbers: one for all farms, so that a replay gives the same bytes everywhere. */
const FORECAST_SEED = 1802;

function probeSpec(probe: ProbeConfig): ProbeSpec {
  switch (probe.kind) {
    case 'air-temperature':
    case 'relative-humidity':
      return { id: probe.id, kind: probe.kind, benchId: probe.bench };
    case 'light':
      return { id: probe.id, kind: probe.kind, benchId: probe.bench, unit: probe.unit };
    case 'block-moisture':
      return { id: probe.id, kind: probe.kind, trayId: probe.tray, calibration: probe.calibration };
    case 'tray-weight':
      return { id: probe.id, kind: probe.kind, trayId: probe.tray, emptyTrayG: probe.emptyTrayG };
  }
}

/** A farm's configuration as the model needs it. */
export function modelSpec(config: FarmConfig): FarmModelSpec {
  return {
    benches: config.benches,
    probes: config.probes.map(probeSpec),
    latitudeDeg: config.latitude,
    longitudeDeg: config.longitude,
    utcOffsetMin: createUtcOffset(config.timeZone),
    seed: FORECAST_SEED,
  };
}

/** A farm at work. Desk and model are there to be looked at: whatever reaches them goes through the pipeline. */
export interface FarmParts {
  readonly pipeline: Pipeline;
  readonly desk: Pipeline['desk'];
  readonly model: Pipeline['model'];
}

export interface ReopenedFarm {
  readonly farm: FarmParts;
  /** By how much it is dated earlier now, since the clock was set back while the house was off; 0: it was not. */
  readonly wentBackMs: number;
  /** What had been done and could not be played again. */
  readonly leftOut: readonly DayInput[];
}

export interface FarmPartsOptions {
  readonly startMs: number;
  /** Replay keeps no readings, undoes nothing, and begins with the first reading. */
  readonly drive: 'live' | 'demo' | 'replay';
  /** True where a replay fills a store, which keeps readings too. */
  readonly keepReadings?: boolean;
  /** Id of the last turn that was kept. */
  readonly turn?: string | undefined;
  /** What was kept of desk and model alone. */
  readonly deskState?: unknown;
  readonly modelState?: unknown;
  /** Weather to come, handed in by the benchmark; the model's own outlook when absent. */
  readonly outlook?: ClimateOutlook;
  /** Told of our own mistakes, which kept something from being carried out. */
  readonly complain?: ((mistake: unknown) => void) | undefined;
}

function airBenches(config: FarmConfig): ReadonlyMap<string, string> {
  return new Map(
    config.probes.flatMap((probe): [string, string][] =>
      probe.kind === 'air-temperature' ? [[probe.id, probe.bench]] : [],
    ),
  );
}

/** The same pipeline for all three drives: live, demo and replay. */
export function createFarmParts(config: FarmConfig, options: FarmPartsOptions): FarmParts {
  const { startMs, drive, turn, deskState, modelState } = options;
  const parts = coreParts(config, options);
  const core = FarmCore.startingAt(parts, startMs, deskState, modelState);
  agreeOnTrays(core.model, core.desk, startMs);
  const day = new Day(parts, core, drive !== 'replay', [], turn);
  if (deskState !== undefined) startAgain(day, options);
  return farmOf(config, options, parts, day);
}

/** A start makes every forecast anew; where our own mistake keeps it from that, the farm opens without. */
function startAgain(day: Day, { startMs, complain }: FarmPartsOptions): void {
  try {
    day.take({ kind: 'start', atMs: startMs, shiftMs: 0 });
  } catch (error) {
    if (!(error instanceof NotCarriedOut)) throw error;
    complain?.(error);
  }
}

/**
 * The farm as its last day was kept: it goes on from there, and what was told within that day can be taken back. Undefined when
 * nothing of it can be played.
 */
export function reopenFarm(
  config: FarmConfig,
  options: FarmPartsOptions,
  past: readonly Chunk[],
): ReopenedFarm | undefined {
  const parts = coreParts(config, options);
  const reopened = reopenDay(parts, past, options.startMs, options.turn);
  if (reopened === undefined) return undefined;
  const { day, wentBackMs, leftOut } = reopened;
  return { farm: farmOf(config, options, parts, day), wentBackMs, leftOut };
}

function coreParts(config: FarmConfig, { drive, outlook }: FarmPartsOptions): CoreParts {
  const spec: FarmModelSpec = { ...modelSpec(config), outlook };
  const speech = createSpeech(config);
  return {
    airBenches: airBenches(config),
    createDesk: (snapshot) => createWateringDesk(config, snapshot, speech.words),
    createModel: (snapshot) => createFarmModel(spec, snapshot),
    rounds: createRoundCalendar(config.rounds, config.timeZone),
    quietUntil: createQuietHours(config.notices.quietHours, config.timeZone),
    noticeLeadMin: config.notices.leadMin,
    waitForFirstSample: drive === 'replay',
  };
}

function farmOf(
  config: FarmConfig,
  { drive, keepReadings, complain }: FarmPartsOptions,
  core: CoreParts,
  day: Day,
): FarmParts {
  const pipeline = new Pipeline({
    probes: config.probes,
    core,
    day,
    judgeOf: createProbeJudge,
    readingFacts: drive !== 'replay' || keepReadings === true,
    complain,
  });
  return {
    pipeline,
    get desk() {
      return pipeline.desk;
    },
    get model() {
      return pipeline.model;
    },
  };
}
