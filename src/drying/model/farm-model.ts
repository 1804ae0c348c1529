import type { BenchConfig } from '../../../shared/config/benches.js';
import type { CalibrationPoint } from '../../../shared/config/kit/probes.js';
import type { Cover } from '../../../shared/config/trays.js';
import type { Flag } from '../../../shared/facts/reading.js';
import type { LookLevel } from '../../../shared/facts/tray-life.js';
import type { Supposition } from './supposition.js';
import type { TrayForecast } from './tray-forecast.js';

/** A tray as the model needs it. Absent values are learned, from priors by block size. */
export interface TraySpec {
  readonly id: string;
  readonly benchId: string;
  readonly blockSideMm: number;
  readonly blockCount: number;
  readonly containerCapacityM3PerM3?: number | undefined;
  readonly refillPointM3PerM3?: number | undefined;
  readonly trayAreaM2?: number | undefined;
  readonly cover: Cover;
  readonly sownAtMs?: number | undefined;
  readonly germinatedAtMs?: number | undefined;
}

/** A probe as the model needs it: climate probes belong to a bench, moisture and weight probes to a tray. */
export type ProbeSpec =
  | { readonly id: string; readonly kind: 'air-temperature' | 'relative-humidity'; readonly benchId: string }
  | { readonly id: string; readonly kind: 'light'; readonly benchId: string; readonly unit: 'lx' | 'W/m2' }
  | {
      readonly id: string;
      readonly kind: 'block-moisture';
      readonly trayId?: string | undefined;
      readonly calibration?: readonly CalibrationPoint[] | undefined;
    }
  | {
      readonly id: string;
      readonly kind: 'tray-weight';
      readonly trayId?: string | undefined;
      readonly emptyTrayG?: number | undefined;
    };

/** Mean weather of the hour that begins at an instant. */
export type ClimateOutlook = (
  benchId: string,
  hourStartsAtMs: number,
) => { readonly temperatureC: number; readonly vpdKPa: number; readonly solarWPerM2: number };

export interface FarmModelSpec {
  readonly benches: readonly BenchConfig[];
  readonly probes: readonly ProbeSpec[];
  readonly latitudeDeg?: number | undefined;
  readonly longitudeDeg?: number | undefined;
  /** Offset of the farm's clock from UTC at an instant, minutes; the daily shape of sun and habit needs it. */
  readonly utcOffsetMin: (atMs: number) => number;
  /** Seed of the ensemble's random numbers: same seed and inputs, same forecasts. */
  readonly seed: number;
  /** Weather to come, handed in instead of the model's own outlook: tells what the model misses from what weather does. */
  readonly outlook?: ClimateOutlook | undefined;
}

/** One finished fall from a watering to the next. */
export interface DryDown {
  readonly trayId: string;
  readonly startedAtMs: number;
  readonly endedAtMs: number;
  readonly startWaterContentM3PerM3: number;
  readonly endWaterContentM3PerM3: number;
  /** When the mean block reached the refill point; absent when it was watered first (most are). */
  readonly refillReachedAtMs?: number | undefined;
  /** What was held for the refill point at its end; absent in dry-downs of stores from before it was kept. */
  readonly refillPointM3PerM3?: number | undefined;
  readonly meanTemperatureC?: number | undefined;
  readonly meanVpdKPa?: number | undefined;
  readonly meanSolarWPerM2?: number | undefined;
  readonly hasProbe: boolean;
}

/** What the model noticed while time passed. */
export type ModelEvent =
  /** A probe shows that water is being taken up; `watering-detected` follows when the rise is over. */
  | {
      readonly kind: 'watering-begun';
      readonly trayId: string;
      /** Best estimate of when it was poured. */
      readonly atMs: number;
      readonly noticedAtMs: number;
      /** What the probe has risen by so far. */
      readonly risenM3PerM3: number;
    }
  | {
      readonly kind: 'watering-detected';
      readonly trayId: string;
      /** Best estimate of when it was poured; may lie before the noticing. */
      readonly atMs: number;
      readonly noticedAtMs: number;
      readonly takenUpMl: number;
      readonly takenUpSdMl: number;
      /** False when the rise stopped clearly short of container capacity. */
      readonly filled: boolean;
    }
  | { readonly kind: 'dry-down-finished'; readonly dryDown: DryDown }
  | {
      readonly kind: 'probe-drift';
      readonly probeId: string;
      readonly atMs: number;
      readonly driftM3PerM3: number;
    };

/** What the model believes of a tray, from what, how sure: `drybell explain`. */
export interface TrayBelief {
  readonly trayId: string;
  readonly atMs: number;
  readonly lines: readonly {
    readonly quantity: string;
    readonly value: number;
    readonly sd?: number | undefined;
    readonly unit: string;
    readonly from: string;
    /** Of the last pour, where it is evidence. */
    readonly pouredAtMs?: number | undefined;
  }[];
}

/**
 * The farm's drying model: one joint state for all trays, so that what a probe teaches is shared with the trays that
 * have none. Calls come in the order of time; a late call (up to some hours back) is applied at the present.
 * Nothing here looks at a clock, sleeps, or logs.
 */
export interface FarmModel {
  /** The trays that it knows. */
  trayIds(): readonly string[];
  addTray(spec: TraySpec, atMs: number): void;
  endTray(trayId: string, atMs: number): void;
  moveTray(trayId: string, benchId: string, atMs: number): void;
  setCover(trayId: string, cover: Cover, atMs: number): void;
  setSown(trayId: string, atMs: number): void;
  setGerminated(trayId: string, atMs: number): void;
  attachProbe(probeId: string, trayId: string | undefined, atMs: number): void;

  /** A reading in the probe's raw unit. Flags 3, 4 and 9 are not believed: the state runs on and widens. */
  observe(probeId: string, atMs: number, rawValue: number | undefined, flag: Flag): void;
  /**
   * A pour somebody told of; `ml` absent: filled, excess tipped out, or as likely the `askedMl` that a notice had asked for.
   * Told after a detection it is the same pour.
   */
  recordWatering(trayId: string, atMs: number, ml: number | undefined, askedMl?: number): void;
  /** Perhaps watered at this instant, with this probability; carried as a mixture. */
  recordPerhapsWatered(trayId: string, atMs: number, probability: number): void;
  recordLook(trayId: string, level: LookLevel, atMs: number): void;
  /** The tray with its blocks, weighed by hand. */
  recordWeight(trayId: string, grams: number, atMs: number): void;
  /** "This tray is ready for water": the refill point, from the grower's eye. */
  recordReady(trayId: string, atMs: number): void;

  /** Runs the state on to this instant and returns what was noticed. */
  advanceTo(atMs: number): readonly ModelEvent[];
  /** Forecast at the instant of the last `advanceTo`. Throws RangeError for an unknown tray. */
  forecast(trayId: string): TrayForecast;
  /** The same under a supposition, and nothing is kept of it: asked or not, what follows is the same. Throws RangeError for an unknown tray. */
  forecastIf(trayId: string, supposed: Supposition): TrayForecast;
  /** Takes over what another farm's model has learned of what trays share; its trays keep what they believe given that. */
  followLessons(of: FarmModel): void;
  /** What the tray's blocks hold now by its readings and the model, mean, m³/m³; costs next to nothing. Throws RangeError for an unknown tray. */
  meanWater(trayId: string): number;
  /** For how long a moisture probe has read what no hypothesis about its tray can follow, h; 0 while it fits, and for other probes. */
  contradictedH(probeId: string): number;
  explain(trayId: string): TrayBelief;
  /** JSON-able; `createFarmModel` takes it back after a restart. */
  snapshot(): unknown;
}
