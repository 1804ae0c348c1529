import type { FarmConfig } from '../../../shared/config/farm.js';

/** Humidity assumed where no probe measures it, %: with a fitted factor only its swing would matter. */
const ASSUMED_RH_PCT = 70;
const HOUR_MS = 3_600_000;
const DAY_H = 24;

/** Saturation vapour pressure, kPa (FAO-56 eq. 11), as anyone would take it from the handbook. */
function saturationKPa(temperatureC: number): number {
  return 0.6108 * Math.exp((17.27 * temperatureC) / (temperatureC + 237.3));
}

interface BenchHours {
  temperatureC: number | undefined;
  humidityPct: number | undefined;
  readonly byHour: Map<number, number>;
}

/** VPD of each bench by the hour, from its probes. */
export class BenchVpd {
  private readonly benches = new Map<string, BenchHours>();
  private readonly probes = new Map<string, { readonly bench: string; readonly kind: string }>();

  constructor(config: FarmConfig) {
    for (const { id } of config.benches)
      this.benches.set(id, { temperatureC: undefined, humidityPct: undefined, byHour: new Map() });
    for (const probe of config.probes)
      if ('bench' in probe) this.probes.set(probe.id, { bench: probe.bench, kind: probe.kind });
  }

  reading(probeId: string, value: number): void {
    const probe = this.probes.get(probeId);
    const bench = probe === undefined ? undefined : this.benches.get(probe.bench);
    if (probe === undefined || bench === undefined) return;
    if (probe.kind === 'air-temperature') bench.temperatureC = value;
    if (probe.kind === 'relative-humidity') bench.humidityPct = value;
  }

  hour(atMs: number): void {
    for (const bench of this.benches.values()) {
      if (bench.temperatureC === undefined) continue;
      const dry = 1 - (bench.humidityPct ?? ASSUMED_RH_PCT) / 100;
      bench.byHour.set(Math.round(atMs / HOUR_MS), saturationKPa(bench.temperatureC) * dry);
    }
  }

  /** VPD that this hour had, or the same hour of the day before it; undefined when nothing is known. */
  kPa(benchId: string, atMs: number): number | undefined {
    const byHour = this.benches.get(benchId)?.byHour;
    if (byHour === undefined || byHour.size === 0) return undefined;
    let hour = Math.round(atMs / HOUR_MS);
    for (let back = 0; back < 15; back++, hour -= DAY_H) {
      const value = byHour.get(hour);
      if (value !== undefined) return value;
    }
    return [...byHour.values()].reduce((sum, value) => sum + value, 0) / byHour.size;
  }

  sumKPaH(benchId: string, fromMs: number, toMs: number): number {
    let sum = 0;
    for (let at = fromMs + HOUR_MS / 2; at < toMs; at += HOUR_MS) sum += this.kPa(benchId, at) ?? 0;
    return sum;
  }
}
