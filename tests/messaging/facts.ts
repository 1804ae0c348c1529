import { toInstant } from '../../shared/base/ids.js';
import type { AlarmState } from '../../shared/facts/alarm.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import type { SaidCall } from '../../src/watering/sentences/said/desk-sentences.js';

export const START_MS = Date.parse('2026-04-18T05:00:00Z');

export function alarmFact(
  tray: string,
  state: AlarmState,
  kind: 'refill' | 'dry' = 'refill',
  atMs = START_MS,
): Fact {
  return { kind: 'alarm', transition: { at: toInstant(atMs), kind, state, tray } };
}

/** A refill call with what its sentence rests on, as the desk makes it. */
export function desksCall(trays: readonly string[]): Fact {
  const said: SaidCall = {
    nowMs: START_MS,
    kind: 'refill',
    reason: 'will-not-reach-round',
    trays: trays.map((id) => ({ id, benchId: 'south', blockSideMm: 19, crop: 'celery', doseMl: 580 })),
    of: trays[0] ?? '',
    others: trays.slice(1),
    again: false,
    comingRoundMs: Date.parse('2026-04-18T16:00:00Z'),
  };
  const call = {
    at: toInstant(START_MS),
    kind: 'refill' as const,
    bench: 'south',
    trays: [...trays],
    again: false,
    said,
  };
  return { kind: 'call', call };
}

/** The call after the quiet hours about a tray's cover and a probe, as the desk makes it. */
export function quietCall(): Extract<Fact, { kind: 'call' }> {
  const part = {
    nowMs: START_MS,
    others: [],
    again: false,
    comingRoundMs: Date.parse('2026-04-18T16:00:00Z'),
  };
  const cover: SaidCall = {
    ...part,
    kind: 'cover',
    reason: 'cover-after-germination',
    of: 't1',
    others: ['t2'],
    trays: ['t1', 't2'].map((id) => ({ id, benchId: 'south', blockSideMm: 19 })),
  };
  const probe: SaidCall = { ...part, kind: 'probe', reason: 'silent', of: 'moist-t3', trays: [] };
  const said: SaidCall = { ...cover, parts: [cover, probe] };
  const call = {
    at: toInstant(START_MS),
    kind: 'cover' as const,
    trays: ['t1', 't2'],
    again: false,
    about: [
      { kind: 'cover' as const, of: 't1' },
      { kind: 'cover' as const, of: 't2' },
      { kind: 'probe' as const, of: 'moist-t3' },
    ],
    said,
  };
  return { kind: 'call', call };
}

export function callFact(trays: string[], sentence: string): Fact {
  return {
    kind: 'call',
    call: { at: toInstant(START_MS), kind: 'refill', bench: 'south', trays, again: false, sentence },
  };
}

export function readingFact(probeId = 'moist-t1', rawValue?: number): Fact {
  return {
    kind: 'reading',
    reading: {
      probeId,
      observedAtMs: START_MS,
      rawValue,
      rawUnit: 'V',
      waterContentM3PerM3: rawValue === undefined ? undefined : 0.48,
      flag: rawValue === undefined ? 9 : 1,
      flagReasons: [],
      calibrationId: 'moist-t1-1',
    },
  };
}

export function forecastFact(tray: string, waterContentM3PerM3 = 0.51): Fact {
  return {
    kind: 'forecast',
    forecast: {
      at: toInstant(START_MS),
      tray,
      waterContentM3PerM3,
      hoursToRefill: { p10: 6.1, p50: 8, p90: 11.2 },
      hoursToRefillDriestTenth: { p10: 4.4, p50: 6.2, p90: 9.5 },
    },
  };
}

export function roundFact(sentence: string, atMs = START_MS): Fact {
  return {
    kind: 'round-notice',
    notice: {
      at: toInstant(atMs),
      round: toInstant(atMs + 75 * 60_000),
      due: [{ tray: 't1', doseMl: 580 }],
      canWait: [],
      sentence,
    },
  };
}

/** A notice of minis on bench south, as the desk makes it. */
export function roundFactOf(
  trays: readonly string[],
  atMs = START_MS,
): Extract<Fact, { kind: 'round-notice' }> {
  return {
    kind: 'round-notice',
    notice: {
      at: toInstant(atMs),
      round: toInstant(atMs + 75 * 60_000),
      due: trays.map((tray) => ({ tray, doseMl: 580, bench: 'south', blockSideMm: 19 })),
      canWait: [],
      sentence: `Water ${trays.join(', ')}.`,
    },
  };
}

export function wateringFact(tray: string, atMs = START_MS + 60_000): Fact {
  return { kind: 'watering', watering: { at: toInstant(atMs), tray, source: 'logged' } };
}

export function askFact(trays: readonly string[], atMs = START_MS): Fact {
  return { kind: 'ask', at: toInstant(atMs), trays, sentence: `Were ${trays.join(', ')} watered?` };
}
