import type { FarmConfig } from '../../../shared/config/farm.js';
import type { ProbeConfig } from '../../../shared/config/probes.js';
import { createFarmModel } from '../../drying/create-farm-model.js';
import type { ClimateOutlook, FarmModel, FarmModelSpec, ProbeSpec } from '../../drying/farm-model.js';
import { agreeOnTrays } from '../../monitor/agree-on-trays.js';
import { ModelKeeper } from '../../monitor/model-keeper.js';
import { Pipeline } from '../../monitor/pipeline.js';
import { createQuietHours } from '../../monitor/quiet-hours.js';
import { createRoundCalendar, createUtcOffset } from '../../monitor/round-calendar.js';
import { createProbeJudge } from '../../sensing/probe-judge.js';
import { createWateringDesk } from '../../watering/create-watering-desk.js';
import type { WateringDesk } from '../../watering/watering-desk.js';

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

export interface FarmParts {
  readonly pipeline: Pipeline;
  readonly desk: WateringDesk;
  readonly model: ModelKeeper;
}

export interface FarmPartsOptions {
  readonly startMs: number;
  /** Replay keeps no readings, undoes nothing, and begins with the first reading. */
  readonly drive: 'live' | 'demo' | 'replay';
  /** True where a replay fills a store, which keeps readings too. */
  readonly keepReadings?: boolean;
  readonly deskState?: unknown;
  readonly modelState?: unknown;
  /** Weather to come, handed in by the benchmark; the model's own outlook when absent. */
  readonly outlook?: ClimateOutlook;
}

/** The same pipeline for all three drives: live, demo and replay. */
export function createFarmParts(config: FarmConfig, options: FarmPartsOptions): FarmParts {
  const spec: FarmModelSpec = { ...modelSpec(config), outlook: options.outlook };
  const isReplay = options.drive === 'replay';
  const restore = (snapshot: unknown): FarmModel => createFarmModel(spec, snapshot);
  const desk = createWateringDesk(config, options.deskState);
  const kept = restore(options.modelState);
  agreeOnTrays(kept, desk, options.startMs);
  const model = new ModelKeeper(kept, options.startMs, isReplay ? undefined : restore);
  const pipeline = new Pipeline(
    {
      probes: config.probes,
      model,
      desk,
      rounds: createRoundCalendar(config.rounds, config.timeZone),
      quietUntil: createQuietHours(config.notices.quietHours, config.timeZone),
      judgeOf: createProbeJudge,
      noticeLeadMin: config.notices.leadMin,
      readingFacts: !isReplay || options.keepReadings === true,
      waitForFirstSample: isReplay,
    },
    options.startMs,
  );
  return { pipeline, desk, model };
}
