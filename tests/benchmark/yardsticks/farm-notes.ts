import type { FarmConfig } from '../../../shared/config/farm.js';
import type { CalibrationPoint } from '../../../shared/config/kit/probes.js';
import type { LogRow } from '../scenario.js';
import { BenchVpd } from './bench-vpd.js';

const HOUR_MS = 3_600_000;
const HOURS_PER_DAY = 24;
/** A visit to an hour of the day leaves this of what was seen there before: about the last five days count. */
const VISIT_KEEPS = 0.84;
/** A watering shows as a rise by this much against the lowest of the last two hours, m3/m3. */
const RISE_M3_PER_M3 = 0.05;
/** Log rows and rises this close are one watering. */
const SAME_WATERING_MS = 3 * HOUR_MS;
/** Left out after a watering, while the block wicks. */
const WICKING_MS = 2 * HOUR_MS;
/** A reading older than this says nothing of now. */
const STALE_MS = 5 * HOUR_MS;
/** Priors when the configuration says nothing (judgement, not published). */
const USUAL_CAPACITY = 0.65;
const USUAL_REFILL = 0.35;

/** A fall between two waterings as a calibrated probe saw it. */
export interface NotedDryDown {
  readonly startMs: number;
  readonly endMs: number;
  /** Hourly levels, m3/m3, from the start on. */
  readonly levels: readonly number[];
  /** VPD summed over it, kPa h. */
  readonly vpdKPaH: number;
}

/** What anyone could note down about one tray from the recorded rows. */
export interface TrayNotes {
  readonly id: string;
  readonly bench: string;
  readonly blockSideMm: number;
  readonly blocksMl: number;
  readonly capacity: number;
  readonly refill: number;
  readonly calibration: readonly CalibrationPoint[] | undefined;
  wateredAtMs: number;
  /** Last pour as told, mL; undefined: filled. */
  pouredMl: number | undefined;
  /** Hourly levels since the watering's wicking ended; the last one is now. */
  levels: number[];
  levelStartMs: number;
  level: number | undefined;
  /** Falls seen at each UTC hour of the day, m3/m3, and visits there, both fading visit by visit. */
  readonly fallAtHour: Float64Array;
  readonly visitsAtHour: Float64Array;
  readonly dryDowns: NotedDryDown[];
  /** Hours between told waterings. */
  readonly intervalsH: number[];
}

/** Straight lines between calibration points, carried on at both ends. */
function waterOf(points: readonly CalibrationPoint[], volts: number): number {
  const sorted = [...points].sort((a, b) => a.volts - b.volts);
  for (let i = 1; i < sorted.length; i++) {
    const low = sorted[i - 1];
    const high = sorted[i];
    if (low === undefined || high === undefined) break;
    if (volts <= high.volts || i === sorted.length - 1)
      return (
        low.waterContentM3PerM3 +
        ((volts - low.volts) / (high.volts - low.volts)) *
          (high.waterContentM3PerM3 - low.waterContentM3PerM3)
      );
  }
  return Number.NaN;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function noteFall({ fallAtHour, visitsAtHour }: TrayNotes, atMs: number, fall: number): void {
  const hour = hourOfDay(atMs);
  fallAtHour[hour] = VISIT_KEEPS * (fallAtHour[hour] ?? 0) + fall;
  visitsAtHour[hour] = VISIT_KEEPS * (visitsAtHour[hour] ?? 0) + 1;
}

/** UTC hour of the day, 0 to 23. */
export function hourOfDay(atMs: number): number {
  return Math.floor(atMs / HOUR_MS) % HOURS_PER_DAY;
}

/** The napkin: waterings, levels and finished dry-downs, kept from readings and log alone. */
export class FarmNotes {
  readonly trays = new Map<string, TrayNotes>();
  readonly vpd: BenchVpd;
  private readonly byProbe = new Map<string, TrayNotes>();
  private readonly recent = new Map<string, { atMs: number; water: number }[]>();
  private readonly endedListeners: ((tray: TrayNotes, dryDown: NotedDryDown) => void)[] = [];
  private readonly benchOf = new Map<string, string>();
  private lastHourMs = 0;

  constructor(config: FarmConfig, startMs: number) {
    this.vpd = new BenchVpd(config);
    for (const tray of config.trays) {
      const probe = config.probes.find((one) => one.kind === 'block-moisture' && one.tray === tray.id);
      const calibration = probe?.kind === 'block-moisture' ? probe.calibration : undefined;
      const notes: TrayNotes = {
        id: tray.id,
        bench: tray.bench,
        blockSideMm: tray.blockSideMm,
        blocksMl: tray.blockCount * (tray.blockSideMm / 10) ** 3,
        capacity: tray.containerCapacityM3PerM3 ?? USUAL_CAPACITY,
        refill: tray.refillPointM3PerM3 ?? USUAL_REFILL,
        calibration,
        wateredAtMs: startMs,
        pouredMl: undefined,
        levels: [],
        levelStartMs: startMs,
        level: undefined,
        fallAtHour: new Float64Array(HOURS_PER_DAY),
        visitsAtHour: new Float64Array(HOURS_PER_DAY),
        dryDowns: [],
        intervalsH: [],
      };
      this.trays.set(tray.id, notes);
      this.benchOf.set(tray.id, tray.bench);
      if (probe !== undefined && calibration !== undefined) this.byProbe.set(probe.id, notes);
    }
  }

  /** Bench that a tray stands on now. */
  bench(trayId: string): string {
    return this.benchOf.get(trayId) ?? '';
  }

  onDryDown(listener: (tray: TrayNotes, dryDown: NotedDryDown) => void): void {
    this.endedListeners.push(listener);
  }

  reading(probeId: string, atMs: number, value: number): void {
    this.vpd.reading(probeId, value);
    const tray = this.byProbe.get(probeId);
    if (tray?.calibration === undefined) return;
    const water = waterOf(tray.calibration, value);
    if (!(water > 0.02 && water < 0.95)) return;
    const recent = this.recent.get(tray.id) ?? [];
    if (recent.length === 0) this.recent.set(tray.id, recent);
    const last = recent[recent.length - 1];
    if (last !== undefined && atMs - last.atMs < 240_000) return;
    recent.push({ atMs, water });
    // two hours of a usual cadence; of a slow logger the last two readings
    while (recent.length > 2 && (recent[0]?.atMs ?? atMs) < atMs - 2 * HOUR_MS) recent.shift();
  }

  event(row: LogRow): void {
    const tray = this.trays.get(row.tray);
    if (tray === undefined) return;
    if (row.event === 'moved' && row.bench !== undefined) this.benchOf.set(row.tray, row.bench);
    if (row.event === 'watered') {
      if (row.atMs - tray.wateredAtMs > SAME_WATERING_MS)
        tray.intervalsH.push((row.atMs - tray.wateredAtMs) / HOUR_MS);
      this.watered(tray, row.atMs, row.ml);
    }
  }

  private watered(tray: TrayNotes, atMs: number, ml: number | undefined): void {
    if (atMs - tray.wateredAtMs < SAME_WATERING_MS) {
      tray.pouredMl = ml ?? tray.pouredMl;
      return;
    }
    if (tray.levels.length >= 4) {
      const dryDown = {
        startMs: tray.levelStartMs,
        endMs: atMs,
        levels: tray.levels,
        vpdKPaH: this.vpd.sumKPaH(this.bench(tray.id), tray.levelStartMs, atMs),
      };
      tray.dryDowns.push(dryDown);
      for (const listener of this.endedListeners) listener(tray, dryDown);
    }
    tray.wateredAtMs = atMs;
    tray.pouredMl = ml;
    tray.levels = [];
    tray.level = undefined;
  }

  /** Full hour: levels are noted, rises looked for. */
  advance(toMs: number): void {
    if (toMs - this.lastHourMs < HOUR_MS) return;
    this.lastHourMs = toMs;
    this.vpd.hour(toMs);
    for (const tray of this.trays.values()) {
      const recent = this.recent.get(tray.id);
      const last = recent?.at(-1);
      const sinceMs = Math.min(toMs - 0.5 * HOUR_MS, (last?.atMs ?? toMs) - 1);
      const isStale = last === undefined || last.atMs < toMs - STALE_MS;
      const fresh = isStale ? [] : (recent?.filter((one) => one.atMs > sinceMs) ?? []);
      if (recent === undefined || fresh.length === 0) {
        tray.level = undefined;
        continue;
      }
      const now = median(fresh.map((one) => one.water));
      const older = recent.filter((one) => one.atMs <= sinceMs);
      const lowest = older.reduce((low, one) => (one.water < low.water ? one : low), {
        atMs: toMs,
        water: 9,
      });
      if (older.length > 0 && now - lowest.water > RISE_M3_PER_M3) this.watered(tray, lowest.atMs, undefined);
      tray.level = now;
      if (toMs - tray.wateredAtMs < WICKING_MS) continue;
      const before = tray.levels[tray.levels.length - 1];
      if (before === undefined) tray.levelStartMs = toMs;
      else noteFall(tray, toMs - HOUR_MS, before - now);
      tray.levels.push(now);
    }
  }
}
