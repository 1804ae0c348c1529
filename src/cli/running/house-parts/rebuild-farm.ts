import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { JudgedReading } from '../../../monitor/ports/facts.js';
import type { ReviewQueries } from '../../../monitor/ports/ports.js';
import { createFarmParts, type FarmParts } from './farm-parts.js';

/** The desk's and the model's state, built anew, and of what. */
export interface RebuiltFarm {
  readonly desk: unknown;
  readonly model: unknown;
  readonly eventCount: number;
  readonly readingCount: number;
}

/** The outlook learns from ten days (`climate/outlook`), and no dry-down of a block in use lasts longer (judgement). */
const READINGS_DAYS = 10;
const EVENTS_AT_MOST = 200_000;
/** A reading a minute for as long, and half as many again; more would be a cadence that no farm has. */
const READINGS_AT_MOST = READINGS_DAYS * 24 * 60 * 1.5;

interface DatedEvent {
  readonly atMs: number;
  readonly event: TrayEvent;
}

/** Standing events in the order of their time; what is told of the time before a tray was entered comes right after that. */
function inOrder(events: readonly TrayEvent[]): readonly DatedEvent[] {
  const known = new Set<string>();
  const early: TrayEvent[] = [];
  const ordered: DatedEvent[] = [];
  for (const event of events) {
    const atMs = Date.parse(event.at);
    if (event.event === 'new') known.add(event.tray);
    else if (!known.has(event.tray)) {
      early.push(event);
      continue;
    }
    ordered.push({ atMs, event });
    if (event.event === 'new')
      for (const before of early) if (before.tray === event.tray) ordered.push({ atMs, event: before });
  }
  return ordered;
}

async function keptEvents(store: ReviewQueries, nowMs: number): Promise<readonly DatedEvent[]> {
  const facts = await store.facts(['tray-event'], { fromMs: 0, toMs: nowMs + 1 }, EVENTS_AT_MOST);
  return inOrder(
    facts.flatMap((fact) => (fact.kind === 'tray-event' && fact.undone !== true ? [fact.event] : [])),
  );
}

async function keptReadings(
  config: FarmConfig,
  store: ReviewQueries,
  fromMs: number,
  nowMs: number,
): Promise<readonly JudgedReading[]> {
  const perProbe = await Promise.all(
    config.probes.map(({ id }) => store.readings(id, { fromMs, toMs: nowMs + 1 }, READINGS_AT_MOST)),
  );
  return perProbe.flat().sort((a, b) => a.observedAtMs - b.observedAtMs);
}

/** Events before the readings only say which trays there are: no decision is made of them again. */
function playEarlier(config: FarmConfig, events: readonly DatedEvent[], fromMs: number): FarmParts {
  const farm = createFarmParts(config, { startMs: events[0]?.atMs ?? fromMs, drive: 'replay' });
  for (const { atMs, event } of events) if (atMs < fromMs) farm.pipeline.trayEvent(event, atMs);
  farm.pipeline.takeFacts();
  return farm;
}

/**
 * Desk and model as the store's events and its readings of the last ten days make them, for states that can't be read: the same
 * pipeline as in a replay, up to the last that was kept. Calls until then were made before; nothing is told.
 */
export async function rebuildFarm(
  config: FarmConfig,
  store: ReviewQueries,
  nowMs: number,
): Promise<RebuiltFarm> {
  const events = await keptEvents(store, nowMs);
  const fromMs = nowMs - READINGS_DAYS * MS_PER_DAY;
  const readings = await keptReadings(config, store, fromMs, nowMs);
  const earlier = playEarlier(config, events, fromMs);
  const { pipeline, desk, model } = createFarmParts(config, {
    startMs: fromMs,
    drive: 'replay',
    deskState: earlier.desk.snapshot(),
    modelState: earlier.model.snapshot(),
  });
  const later = events.filter(({ atMs }) => atMs >= fromMs);
  let next = 0;
  let atMs = fromMs;
  const moveTo = (toMs: number): void => {
    if (toMs > atMs) pipeline.advanceTo(toMs - 1);
    atMs = toMs;
    pipeline.takeFacts();
  };
  const playEventsUpTo = (limitMs: number): void => {
    for (let one = later[next]; one !== undefined && one.atMs <= limitMs; one = later[++next]) {
      moveTo(one.atMs);
      pipeline.trayEvent(one.event, one.atMs);
    }
  };
  for (const { probeId, observedAtMs, rawValue } of readings) {
    playEventsUpTo(observedAtMs);
    moveTo(observedAtMs);
    pipeline.sample({ probeId, observedAtMs, rawValue });
  }
  playEventsUpTo(Number.POSITIVE_INFINITY);
  pipeline.advanceTo(atMs);
  return {
    desk: desk.snapshot(),
    model: model.snapshot(),
    eventCount: events.length,
    readingCount: readings.length,
  };
}
