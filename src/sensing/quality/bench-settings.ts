import type { GrossRange } from './gross-range.js';

/** When a run of nearly equal readings is too flat to be true. */
export interface FlatLineSettings {
  /** Readings within this of each other have not moved at all, raw unit. */
  readonly tolerance: number;
  /** The same where the climate says that they should have moved: a stuck probe may still flicker. */
  readonly flickerTolerance: number;
  /** Suspect after this long, when nothing says how much the value should have moved. */
  readonly suspectAfterH: number;
  /** Fewer readings than this are no run. */
  readonly fewestReadings: number;
  /** Values at or below this may be flat for ever: darkness, a block dried out. */
  readonly quietBelow?: number;
  /** From here on a block may lie still while free water is left in the tray. */
  readonly wetFrom?: number;
  /** Values at or above this may be flat for longer, and are then called saturated. */
  readonly saturatedFrom?: number;
  readonly saturatedAfterH?: number;
}

/** How far a reading may stand from the one before. */
export interface JumpSettings {
  /** Always allowed, judged unit. */
  readonly step: number;
  /** Allowed besides, as a share of the value. */
  readonly stepShare: number;
  /** Allowed besides, per hour since the last believed reading. */
  readonly perH: number;
  /** The same for a rise that may be a watering; absent: rises are nothing special. */
  readonly waterings?: {
    readonly perH: number;
    /** Nobody knows which way is wetter: a watering may go either way. */
    readonly eitherWay: boolean;
  };
  /** A jump beyond this fails at once instead of being suspect. */
  readonly failStep: number;
  /** A new level is believed after this many readings in a row, and no sooner than this. */
  readonly confirmReadings: number;
  readonly confirmAfterH: number;
}

/** How one kind of probe is judged. */
export interface BenchSettings {
  readonly range: GrossRange;
  readonly jump: JumpSettings | undefined;
  readonly flat: FlatLineSettings;
}

const NO_JUMP = undefined;
/**
 * A climate probe that has not moved at all for longer than any night and the day beside it is stuck; readings rounded to
 * whole degrees do stand still for a night.
 */
const STANDSTILL_H = 36;

/**
 * Bench settings by kind of probe. All are judgement, in the spirit of the QARTOD manuals' operator-chosen limits.
 *
 * air-temperature: −10 to 60 °C possible. Suspect only below −5 and above 50: an unheated house sees 2 °C on a spring
 * night, and a suspect reading would silence the temperature call. 10 °C in 10 min is the fastest that is believed.
 */
export const AIR_TEMPERATURE: BenchSettings = {
  range: { fail: { low: -10, high: 60 }, suspect: { low: -5, high: 50 } },
  jump: { step: 2, stepShare: 0, perH: 48, failStep: 20, confirmReadings: 3, confirmAfterH: 0 },
  flat: { tolerance: 1e-9, flickerTolerance: 1e-9, suspectAfterH: STANDSTILL_H, fewestReadings: 8 },
};

/** relative-humidity: cheap elements read a little above 100 when wet; at saturation for 12 h they are stuck. */
export const RELATIVE_HUMIDITY: BenchSettings = {
  range: { fail: { low: 0, high: 105 }, suspect: { low: 3, high: 101 } },
  jump: { step: 10, stepShare: 0, perH: 240, failStep: 200, confirmReadings: 2, confirmAfterH: 0 },
  flat: {
    tolerance: 1e-9,
    flickerTolerance: 1e-9,
    suspectAfterH: STANDSTILL_H,
    fewestReadings: 8,
    saturatedFrom: 99,
    saturatedAfterH: 12,
  },
};

/** light: clouds jump, nights are flat; full sun is about 120 klx or 1100 W/m². */
export const LIGHT_LUX: BenchSettings = {
  range: { fail: { low: -10, high: 200_000 }, suspect: { low: 0, high: 140_000 } },
  jump: NO_JUMP,
  flat: {
    tolerance: 1e-9,
    flickerTolerance: 1e-9,
    suspectAfterH: STANDSTILL_H,
    fewestReadings: 8,
    quietBelow: 50,
  },
};
export const LIGHT_W_PER_M2: BenchSettings = {
  range: { fail: { low: -5, high: 1600 }, suspect: { low: -1, high: 1250 } },
  jump: NO_JUMP,
  flat: {
    tolerance: 1e-9,
    flickerTolerance: 1e-9,
    suspectAfterH: STANDSTILL_H,
    fewestReadings: 8,
    quietBelow: 1,
  },
};

/** Steps of a 10-bit converter on 5 V, V. */
const CONVERTER_STEP_V = 5 / 1023;

/**
 * block-moisture, raw volts: at the rails the wire is open or shorted. Wet blocks under a cover may rightly be flat, so
 * flat is never a fail.
 */
const MOISTURE_RANGE: GrossRange = { fail: { low: 0.02, high: 5.2 }, suspect: { low: 0.08, high: 4.95 } };
const MOISTURE_FLAT: FlatLineSettings = {
  tolerance: CONVERTER_STEP_V / 2,
  flickerTolerance: CONVERTER_STEP_V + 1e-6,
  suspectAfterH: 12,
  fewestReadings: 6,
};
/** At this water content a block has given up most of what air can take, and may lie still, m³/m³. */
const DRIED_OUT_M3_PER_M3 = 0.2;
/** From this water content on there may be free water in the tray, m³/m³. */
const WET_M3_PER_M3 = 0.55;

/**
 * Judged as water content: a mini in hot sun loses 0.15 m³/m³ in an hour at the most; water wicks into a block within
 * minutes. A fall that drying cannot explain (a probe that lost contact) stays suspect for 6 h, then the drying model
 * must make of it what it can.
 */
export const BLOCK_MOISTURE_CALIBRATED: BenchSettings = {
  range: MOISTURE_RANGE,
  jump: {
    step: 0.04,
    stepShare: 0,
    perH: 0.15,
    waterings: { perH: 0.6, eitherWay: false },
    failStep: 0.25,
    confirmReadings: 5,
    confirmAfterH: 6,
  },
  flat: { ...MOISTURE_FLAT, quietBelow: DRIED_OUT_M3_PER_M3, wetFrom: WET_M3_PER_M3 },
};

/** Judged as volts: nobody knows yet which way is wetter, so that any new level needs one confirming reading only. */
export const BLOCK_MOISTURE_RAW: BenchSettings = {
  range: MOISTURE_RANGE,
  jump: {
    step: 0.1,
    stepShare: 0,
    perH: 0.4,
    waterings: { perH: 1.5, eitherWay: true },
    failStep: 5,
    confirmReadings: 2,
    confirmAfterH: 0,
  },
  flat: MOISTURE_FLAT,
};

/** tray-weight, g: pouring and tipping out are sudden, a lifted tray comes back. */
export const TRAY_WEIGHT: BenchSettings = {
  range: { fail: { low: -200, high: 100_000 }, suspect: { low: 0, high: 60_000 } },
  jump: {
    step: 25,
    stepShare: 0.01,
    perH: 500,
    waterings: { perH: 500, eitherWay: false },
    failStep: 100_000,
    confirmReadings: 5,
    confirmAfterH: 0.5,
  },
  flat: { tolerance: 1e-9, flickerTolerance: 1e-9, suspectAfterH: 24, fewestReadings: 12 },
};

/** The lightest that a tray with blocks can be, as a share of the tray alone: scales drift a little. */
const LIGHTEST_SHARE = 0.95;

/** tray-weight where the empty tray's weight is known: less than that is a lifted tray, not a dry one. */
export function trayWeightSettings(emptyTrayG: number | undefined): BenchSettings {
  if (emptyTrayG === undefined) return TRAY_WEIGHT;
  const fail = { low: LIGHTEST_SHARE * emptyTrayG - 1, high: TRAY_WEIGHT.range.fail.high };
  return { ...TRAY_WEIGHT, range: { ...TRAY_WEIGHT.range, fail } };
}
