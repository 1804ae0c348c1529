import { readDocument } from '../../../shared/base/kept-document.js';
import { shiftedInstants } from '../../../shared/base/shifted-instants.js';
import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { CLIMATE_KINDS, type HourlyMemory, newHourlyMemory } from '../climate/bench-climate.js';
import type { FarmMemory } from '../filter/farm-state.js';
import { STEP_MS } from './farm-step.js';
import { modelDocument, snapshotOf } from './snapshot.js';

/** The remembered hours under other numbers. */
function shiftedHours(from: HourlyMemory, byHours: number): HourlyMemory {
  const to = newHourlyMemory();
  from.hour.forEach((hour, slot) => {
    if (hour < 0 || hour + byHours < 0) return;
    const place = (hour + byHours) % to.hour.length;
    to.hour[place] = hour + byHours;
    to.sum[place] = from.sum[slot] as number;
    to.count[place] = from.count[slot] as number;
  });
  return to;
}

function memoryOf(snapshot: unknown): FarmMemory | undefined {
  const reading = readDocument(modelDocument, snapshot);
  return reading.outcome === 'read' ? reading.value : undefined;
}

/**
 * A snapshot as if its clock had shown `byMs` more all along: what a tray went through is as long ago as it was. Steps lie on a
 * grid of ten minutes and the climate's memory on whole hours, so that those move by the nearest step and hour.
 */
export function shiftSnapshot(snapshot: unknown, byMs: number): unknown {
  const known = memoryOf(snapshot);
  if (known === undefined) return snapshot;
  const memory = shiftedInstants(known, byMs) as FarmMemory;
  if (memory.steppedToMs !== undefined)
    memory.steppedToMs = Math.round(memory.steppedToMs / STEP_MS) * STEP_MS;
  for (const { climate } of memory.benches.values())
    for (const kind of CLIMATE_KINDS)
      climate.memory[kind] = shiftedHours(climate.memory[kind], Math.round(byMs / MS_PER_HOUR));
  return snapshotOf(memory);
}

/** The last instant that a snapshot's model was told; undefined where it was told nothing or can't be read. */
export function toldUntilMs(snapshot: unknown): number | undefined {
  return memoryOf(snapshot)?.nowMs;
}
