import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { FactStore } from '../../../monitor/ports/ports.js';
import { startEvents } from '../../../monitor/start/start-events.js';
import { createRoundCalendar } from '../../../monitor/time/create-round-calendar.js';
import { DEMO_DUE_FIRST, DEMO_START_MS } from '../../../worlds/demo/demo-farm.js';
import { playDemoPast } from '../../../worlds/demo/demo-past.js';
import type { VirtualBench } from '../../../worlds/demo/virtual-bench/virtual-bench.js';
import { createFarmParts } from './farm-parts.js';

const ROUNDS_AT_MOST = 100;

/**
 * Plays the days before the demo and leaves them in the store, facts and states: the house then opens as after a
 * restart, with trays that it knows. Nothing is told to anybody.
 */
export async function rememberPast(config: FarmConfig, bench: VirtualBench, store: FactStore): Promise<void> {
  const startMs = bench.nowMs();
  const { pipeline } = createFarmParts(config, { startMs, drive: 'demo' });
  for (const event of startEvents(config, startMs)) pipeline.trayEvent(event, startMs);
  const rounds = createRoundCalendar(config.rounds, config.timeZone);
  const roundsMs = rounds.after(startMs, ROUNDS_AT_MOST).filter((atMs) => atMs < DEMO_START_MS);
  const past = playDemoPast({
    bench,
    config,
    pipeline,
    toMs: DEMO_START_MS,
    roundsMs,
    partlyLast: DEMO_DUE_FIRST,
  });
  for (const facts of past) await store.keep(facts);
  await store.keep([], {
    desk: pipeline.desk.snapshot(),
    model: pipeline.model.snapshot(),
    ...pipeline.dayDocuments(),
  });
}
