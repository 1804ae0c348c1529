import type { ProbeSpec } from '../model/farm-model.js';
import { perDay } from './layout.js';
import type { ProbeWander } from './process-step.js';

export type TrayProbeSpec = Extract<ProbeSpec, { kind: 'block-moisture' | 'tray-weight' }>;

/** A probe on a tray: what is known of it besides its Gaussian components, which live in the tray's belief. */
export interface ProbeState {
  readonly spec: TrayProbeSpec;
  /** Position among its tray's probes. */
  slot: number;
  attachedAtMs: number;
  /** Raw readings since the last step, believed ones only. */
  bin: number[];
  lastSeenAtMs: number | undefined;
  /** Hours between its readings when nothing is the matter; undefined before the second. */
  usualGapH: number | undefined;
  /** First reading has set the components that only a reading can. */
  started: boolean;
  /** Raw moisture probes: +1 when the reading rises as the block dries (most do), −1 when it falls. */
  drySign: 1 | -1;
  /** Votes for the sign, from jumps at waterings. */
  signVotes: number;
  /** Wetness when a pour was last told of; raw probes only, until it is compared with what came after. */
  wetnessBeforePour: number | undefined;
  /** Where the reading stood when it was last asked which way it creeps; raw probes only. */
  creepAnchor: { readonly atMs: number; readonly wetness: number } | undefined;
  /** The first reading after a pour that filled the tray is still to be noted. */
  awaitsFullLevel: boolean;
  /** Hours and readings of the disagreement that goes on now, and how far off the last of them stood. */
  rejectedH: number;
  rejected: number;
  rejectedBy: number;
  /** Mean over the last days of the readings' squared distance from what was foretold, in variances. */
  surprise: number;
  trace: ProbeTrace;
  drift: DriftWatch;
}

/** The last hours of a probe by step, newest last: what the watering detector looks at. */
export interface ProbeTrace {
  atMs: number[];
  /** Wetness: rises when the block gets wetter. Moisture m³/m³, raw volts (sign applied), or g. */
  wetness: number[];
  temperatureC: number[];
  /** How far its noise moves it from step to step. */
  roughness: number;
  /** Changes that the roughness has been learned from. */
  steps: number;
}

/** Level that the probe reads at container capacity after each watering. */
export interface DriftWatch {
  first: number | undefined;
  recent: number | undefined;
  count: number;
  told: number;
}

/** Name under which weighings by hand are kept on a tray; no configured id contains a space. */
export const HAND_SCALE = 'hand scale';

export function isHandScale(probe: ProbeState): boolean {
  return probe.spec.id.startsWith(`${HAND_SCALE} `);
}

export function newProbeState(spec: TrayProbeSpec, slot: number, atMs: number): ProbeState {
  return {
    spec,
    slot,
    attachedAtMs: atMs,
    bin: [],
    lastSeenAtMs: undefined,
    usualGapH: undefined,
    started: false,
    drySign: 1,
    signVotes: 0,
    wetnessBeforePour: undefined,
    creepAnchor: undefined,
    awaitsFullLevel: false,
    rejectedH: 0,
    rejected: 0,
    rejectedBy: 0,
    surprise: 0,
    trace: { atMs: [], wetness: [], temperatureC: [], roughness: 0, steps: 0 },
    drift: { first: undefined, recent: undefined, count: 0, told: 0 },
  };
}

/**
 * How probes err. Widths are judgement, set larger than a quiet record suggests: the error of a small-block probe comes
 * and goes over hours (contact, temperature of the cable, water films).
 */
export const MOISTURE_WANDER: ProbeWander = {
  biasVarPerH: perDay(0.005),
  gainVarPerH: perDay(0.005),
  slowNoiseSd: 0.026,
  slowNoiseMemoryH: 5,
};
export const MOISTURE_WHITE_SD = 0.006;

/** Volts per m³/m³ that the widths above are scaled by when there is no calibration. */
export const USUAL_VOLTS_PER_WATER = 2;
/** A moisture probe without a calibration: its readings are volts. */
export function isRaw({ spec }: ProbeState): boolean {
  return spec.kind === 'block-moisture' && spec.calibration === undefined;
}

/** Units of a moisture probe's components per m³/m³, before anything is learned of its slope. */
export function usualPerWater(probe: ProbeState): number {
  return isRaw(probe) ? USUAL_VOLTS_PER_WATER : 1;
}

/** The slow error is the same in water as a calibrated probe's: taken for smaller it made the learned gain too sure of itself. */
export const RAW_WANDER: ProbeWander = {
  biasVarPerH: perDay(0.012),
  gainVarPerH: perDay(0.01),
  slowNoiseSd: 0.055,
  slowNoiseMemoryH: 5,
};
export const RAW_WHITE_SD_V = 0.012;

/** Weight: shares of the mass of water that the tray's blocks hold per unit of water content (= mL of blocks). */
export function weightWander(trayVolumeMl: number): ProbeWander {
  return {
    biasVarPerH: perDay(0.004 * trayVolumeMl),
    gainVarPerH: 0,
    slowNoiseSd: 0.004 * trayVolumeMl,
    slowNoiseMemoryH: 4,
  };
}
export function weightWhiteSdG(trayVolumeMl: number): number {
  return 1 + 0.002 * trayVolumeMl;
}
