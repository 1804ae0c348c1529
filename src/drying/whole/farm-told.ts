import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { LookLevel } from '../../../shared/facts/tray-life.js';
import { type Farm, trayOf } from '../filter/farm-state.js';
import { observeTray } from '../filter/hypotheses.js';
import { LOCAL } from '../filter/layout.js';
import { REFERENCE_C } from '../filter/measurement.js';
import { HAND_SCALE, newProbeState } from '../filter/probe-state.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import { keepSpan, observeIndex, recallHabit } from '../pours/moisture-index.js';
import { driedSince, soakedAtMs, turnDryDown } from '../pours/pour-book.js';
import { pourMeasured, pourPerhaps, pourUnmeasured } from '../pours/pour-update.js';
import { clearTrace } from '../pours/rise-detector.js';
import { isSamePour } from '../pours/same-pour.js';
import { doubtUnwatched, unknownForH } from '../pours/unwatched.js';
import { addProbeComponents } from '../probes/attachment.js';
import { believeReading } from '../probes/believe-reading.js';
import { noteBeforePour } from '../probes/dry-sign.js';

/** Moisture index that a grower's eye means by each level of the five-step scale, and how sure (judgement). */
const LOOK_INDEX: Readonly<Record<LookLevel, { readonly index: number; readonly sd: number }>> = {
  1: { index: -0.15, sd: 0.2 },
  2: { index: 0.1, sd: 0.2 },
  3: { index: 0.45, sd: 0.22 },
  4: { index: 0.85, sd: 0.18 },
  5: { index: 1, sd: 0.12 },
};
/** What a grower said of a tray stands beside a pour for this long, h; a pour of less than this share of a filling is none (judgement). */
const JUST_TOLD_H = 4;
const SPLASH_SHARE = 0.3;
/** "Ready for water" comes within this of the refill point, m³/m³. */
const READY_SD_M3PERM3 = 0.03;

/** Books a pour: the dry-down turns, probes start a new trace. Call after the belief has been changed. */
export function bookPour(
  farm: Farm,
  tray: TrayState,
  atMs: number,
  source: 'logged' | 'detected',
  ml: number | undefined,
  waterBefore: number,
): void {
  const turned = turnDryDown(tray, atMs, waterBefore);
  if (turned !== undefined) farm.memory.pending.push(turned);
  tray.lastPour = { atMs, source, ml };
  for (const probe of tray.probes) {
    if (source === 'logged') noteBeforePour(probe);
    probe.awaitsFullLevel = ml === undefined;
    probe.creepAnchor = undefined;
    clearTrace(probe.trace);
  }
}

/**
 * Growers water a tray that has come down, and that tells how dry it was; not so where they have just said how it stands, nor by
 * a splash, which adds what it adds.
 */
function isByNeed(tray: TrayState, atMs: number, ml: number | undefined): boolean {
  if (tray.toldAtMs !== undefined && atMs - tray.toldAtMs <= JUST_TOLD_H * MS_PER_HOUR) return false;
  const spanM3PerM3 = meanLocal(tray, LOCAL.capacity) - meanLocal(tray, LOCAL.refill);
  return ml === undefined || ml >= SPLASH_SHARE * spanM3PerM3 * tray.volumeMl;
}

export function recordWatering(
  farm: Farm,
  trayId: string,
  atMs: number,
  ml: number | undefined,
  askedMl: number | undefined,
): void {
  const tray = trayOf(farm, trayId);
  const { lastPour } = tray;
  if (lastPour?.source === 'detected' && isSamePour(atMs, lastPour.atMs)) {
    tray.lastPour = { atMs: lastPour.atMs, source: 'logged', ml };
    return;
  }
  if (ml !== undefined && ml <= 0) return;
  // before the first word and the first reading the model has only run the tray down
  if (!farm.memory.watching && lastPour === undefined) doubtUnwatched(tray, unknownForH(tray, atMs));
  if (isByNeed(tray, atMs, ml)) recallHabit(tray, farm.memory.shared);
  const waterBefore = meanLocal(tray, LOCAL.water);
  const since = driedSince(tray, soakedAtMs(tray, atMs));
  if (ml === undefined) pourUnmeasured(tray, since, 'told', askedMl);
  else pourMeasured(tray, ml, since);
  bookPour(farm, tray, atMs, 'logged', ml, waterBefore);
}

export function recordPerhapsWatered(farm: Farm, trayId: string, atMs: number, probability: number): void {
  const tray = trayOf(farm, trayId);
  const share = Math.min(1, Math.max(0, probability));
  if (share === 0) return;
  pourPerhaps(tray, share, driedSince(tray, soakedAtMs(tray, atMs)));
}

export function recordLook(farm: Farm, trayId: string, level: LookLevel, atMs: number): void {
  const seen = LOOK_INDEX[level];
  const tray = trayOf(farm, trayId);
  tray.toldAtMs = atMs;
  observeTray(tray, farm.memory.shared, (belief) => observeIndex(belief, seen.index, seen.sd));
  keepSpan(tray, farm.memory.shared);
}

export function recordReady(farm: Farm, trayId: string, atMs: number): void {
  const tray = trayOf(farm, trayId);
  tray.toldAtMs = atMs;
  observeTray(tray, farm.memory.shared, (belief) => {
    const localSlope = new Float64Array(belief.mean.length);
    localSlope[LOCAL.water] = 1;
    localSlope[LOCAL.refill] = -1;
    return {
      innovation: (belief.mean[LOCAL.refill] as number) - (belief.mean[LOCAL.water] as number),
      localSlope,
      noiseVariance: READY_SD_M3PERM3 ** 2,
    };
  });
  keepSpan(tray, farm.memory.shared);
}

/** A tray weighed by hand: a tray-weight probe that reads when somebody lifts the tray. */
export function recordWeight(farm: Farm, trayId: string, grams: number, atMs: number): void {
  const tray = trayOf(farm, trayId);
  tray.toldAtMs = atMs;
  const id = `${HAND_SCALE} ${trayId}`;
  let scale = tray.probes.find((probe) => probe.spec.id === id);
  if (scale === undefined) {
    const onScale = tray.probes.find((probe) => probe.spec.kind === 'tray-weight')?.spec;
    const emptyTrayG = onScale?.kind === 'tray-weight' ? onScale.emptyTrayG : undefined;
    scale = newProbeState({ id, kind: 'tray-weight', trayId, emptyTrayG }, tray.probes.length, atMs);
    addProbeComponents(tray, scale);
  }
  believeReading(farm, tray, scale, grams, atMs, REFERENCE_C);
}
