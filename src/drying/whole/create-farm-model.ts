import { documentValue } from '../../../shared/base/kept-document.js';
import type { Cover } from '../../../shared/config/trays.js';
import type { Flag } from '../../../shared/facts/reading.js';
import type { LookLevel } from '../../../shared/facts/tray-life.js';
import { CARRIED_ON_SHARE } from '../../sensing/calibration/calibration.js';
import type { BenchOutlook } from '../climate/outlook.js';
import { benchOf, type Farm, frameOf, linksOf, newMemory, trayOf } from '../filter/farm-state.js';
import { LOCAL } from '../filter/layout.js';
import { newProbeState } from '../filter/probe-state.js';
import { meanLocal, newTrayState } from '../filter/tray-state.js';
import { forecastIf } from '../forecast/forecast-if.js';
import { forecastTray, outlookOfTray } from '../forecast/forecast-tray.js';
import type { FarmModel, FarmModelSpec, ModelEvent, TrayBelief, TraySpec } from '../model/farm-model.js';
import type { Supposition } from '../model/supposition.js';
import type { TrayForecast } from '../model/tray-forecast.js';
import { solarWPerM2FromLux } from '../physics/air/sun.js';
import { beginWatching } from '../pours/unwatched.js';
import { addProbeComponents, dropProbeComponents } from '../probes/attachment.js';
import { explainTray } from './explain-tray.js';
import { runTo, settle } from './farm-step.js';
import { recordLook, recordPerhapsWatered, recordReady, recordWatering, recordWeight } from './farm-told.js';
import { moveTray } from './farm-trays.js';
import { modelDocument, snapshotOf } from './snapshot.js';

/** The farm's drying model, new or from a snapshot. Throws RangeError for a snapshot that can't be read. */
export function createFarmModel(spec: FarmModelSpec, snapshot?: unknown): FarmModel {
  const memory = documentValue(modelDocument, snapshot) ?? newMemory(spec);
  return new JointFarmModel({ frame: frameOf(spec), memory });
}

/** QARTOD flag of a suspect reading. */
const SUSPECT = 3;

class JointFarmModel implements FarmModel {
  readonly #farm: Farm;
  readonly #outlooks = new Map<string, BenchOutlook>();

  constructor(farm: Farm) {
    this.#farm = farm;
    settle(farm);
  }

  /** What somebody tells of a tray at this instant. */
  #told(atMs: number, hear: (farm: Farm) => void): void {
    runTo(this.#farm, atMs);
    hear(this.#farm);
    settle(this.#farm);
  }

  trayIds(): readonly string[] {
    return [...this.#farm.memory.trays.keys()];
  }

  addTray(spec: TraySpec, atMs: number): void {
    const farm = this.#farm;
    runTo(farm, atMs);
    if (farm.memory.trays.has(spec.id)) this.endTray(spec.id, atMs);
    const bench = benchOf(farm, spec.benchId);
    const links = linksOf(farm, spec.benchId, spec.blockSideMm);
    farm.memory.trays.set(spec.id, newTrayState(spec, bench.airSpeedMPerS, links, farm.memory.shared));
    for (const probe of farm.frame.spec.probes)
      if ('trayId' in probe && probe.trayId === spec.id && !farm.memory.trayOfProbe.has(probe.id))
        this.attachProbe(probe.id, spec.id, atMs);
  }

  endTray(trayId: string, atMs: number): void {
    runTo(this.#farm, atMs);
    const { memory } = this.#farm;
    for (const [probeId, on] of [...memory.trayOfProbe])
      if (on === trayId) memory.trayOfProbe.delete(probeId);
    memory.trays.delete(trayId);
  }

  moveTray(trayId: string, benchId: string, atMs: number): void {
    runTo(this.#farm, atMs);
    moveTray(this.#farm, trayOf(this.#farm, trayId), benchId);
  }

  setCover(trayId: string, cover: Cover, atMs: number): void {
    runTo(this.#farm, atMs);
    trayOf(this.#farm, trayId).cover = cover;
  }

  setSown(trayId: string, atMs: number): void {
    runTo(this.#farm, atMs);
    trayOf(this.#farm, trayId).sownAtMs = atMs;
  }

  setGerminated(trayId: string, atMs: number): void {
    runTo(this.#farm, atMs);
    trayOf(this.#farm, trayId).germinatedAtMs = atMs;
  }

  attachProbe(probeId: string, trayId: string | undefined, atMs: number): void {
    const farm = this.#farm;
    runTo(farm, atMs);
    const spec = farm.frame.probeSpecs.get(probeId);
    if (spec === undefined || 'benchId' in spec) throw new RangeError(`"${probeId}" is no probe of a tray`);
    const before = farm.memory.trayOfProbe.get(probeId);
    if (before !== undefined) {
      if (before === trayId) return;
      const tray = farm.memory.trays.get(before);
      const probe = tray?.probes.find((one) => one.spec.id === probeId);
      if (tray !== undefined && probe !== undefined) dropProbeComponents(tray, probe);
      farm.memory.trayOfProbe.delete(probeId);
    }
    if (trayId === undefined) return;
    const tray = trayOf(farm, trayId);
    addProbeComponents(tray, newProbeState(spec, tray.probes.length, atMs));
    farm.memory.trayOfProbe.set(probeId, trayId);
  }

  observe(probeId: string, atMs: number, rawValue: number | undefined, flag: Flag): void {
    const farm = this.#farm;
    runTo(farm, atMs);
    if (rawValue === undefined || !Number.isFinite(rawValue)) return;
    if (flag > SUSPECT || (flag === SUSPECT && !this.#isBeyondCalibration(probeId, rawValue))) return;
    if (!farm.memory.watching) beginWatching(farm, atMs);
    const trayId = farm.memory.trayOfProbe.get(probeId);
    if (trayId !== undefined) {
      const probes = farm.memory.trays.get(trayId)?.probes ?? [];
      for (const probe of probes) if (probe.spec.id === probeId) probe.bin.push(rawValue);
      return;
    }
    const spec = farm.frame.probeSpecs.get(probeId);
    if (spec === undefined || !('benchId' in spec)) return;
    const { bins } = benchOf(farm, spec.benchId).climate;
    if (spec.kind === 'air-temperature') bins.temperatureC.push(rawValue);
    else if (spec.kind === 'relative-humidity') bins.humidityPct.push(Math.min(100, Math.max(0, rawValue)));
    else if (spec.kind === 'light')
      bins.solarWPerM2.push(Math.max(0, spec.unit === 'lx' ? solarWPerM2FromLux(rawValue) : rawValue));
  }

  /**
   * Suspect because the calibration was carried on: a block fuller than the fullest that was weighed. Believed, with the
   * width that carrying on has; everything else that is suspect is left out.
   */
  #isBeyondCalibration(probeId: string, rawValue: number): boolean {
    const share = this.#farm.frame.calibrations.get(probeId)?.beyondShare(rawValue) ?? 0;
    return share > 0 && share <= 2 * CARRIED_ON_SHARE;
  }

  recordWatering(trayId: string, atMs: number, ml: number | undefined, askedMl?: number): void {
    this.#told(atMs, (farm) => recordWatering(farm, trayId, atMs, ml, askedMl));
  }

  recordPerhapsWatered(trayId: string, atMs: number, probability: number): void {
    this.#told(atMs, (farm) => recordPerhapsWatered(farm, trayId, atMs, probability));
  }

  recordLook(trayId: string, level: LookLevel, atMs: number): void {
    this.#told(atMs, (farm) => recordLook(farm, trayId, level, atMs));
  }

  recordWeight(trayId: string, grams: number, atMs: number): void {
    this.#told(atMs, (farm) => recordWeight(farm, trayId, grams, atMs));
  }

  recordReady(trayId: string, atMs: number): void {
    this.#told(atMs, (farm) => recordReady(farm, trayId, atMs));
  }

  advanceTo(atMs: number): readonly ModelEvent[] {
    runTo(this.#farm, atMs);
    const { memory } = this.#farm;
    const events = memory.pending;
    memory.pending = [];
    return events;
  }

  forecast(trayId: string): TrayForecast {
    const farm = this.#farm;
    const tray = trayOf(farm, trayId);
    const atMs = farm.memory.nowMs ?? 0;
    const held = this.#outlooks.get(tray.benchId);
    const outlook = held?.atMs === atMs ? held : outlookOfTray(farm, tray, atMs);
    this.#outlooks.set(tray.benchId, outlook);
    return forecastTray(farm, tray, outlook, atMs);
  }

  forecastIf(trayId: string, supposed: Supposition): TrayForecast {
    const farm = this.#farm;
    return forecastIf(farm, trayOf(farm, trayId), supposed, farm.memory.nowMs ?? 0);
  }

  followLessons(of: FarmModel): void {
    if (!(of instanceof JointFarmModel)) throw new TypeError('lessons can only be taken from a farm model');
    this.#farm.memory.shared.follow(of.#farm.memory.shared);
    settle(this.#farm);
  }

  meanWater(trayId: string): number {
    return meanLocal(trayOf(this.#farm, trayId), LOCAL.water);
  }

  contradictedH(probeId: string): number {
    for (const tray of this.#farm.memory.trays.values())
      for (const { spec, rejected, rejectedH } of tray.probes)
        if (spec.id === probeId && spec.kind === 'block-moisture' && rejected > 0) return rejectedH;
    return 0;
  }

  explain(trayId: string): TrayBelief {
    return explainTray(this.#farm, trayOf(this.#farm, trayId), this.#farm.memory.nowMs ?? 0);
  }

  snapshot(): unknown {
    return snapshotOf(this.#farm.memory);
  }
}
