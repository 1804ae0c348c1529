import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import { vpdKPa } from '../../drying/physics/air/psychrometrics.js';
import { solarWPerM2FromLux } from '../../drying/physics/air/sun.js';
import { potentialDryingPerH } from '../../drying/physics/drying-law.js';
import { trayExchange } from '../../drying/physics/tray-exchange.js';
import type { TrayNow, WateringDesk } from '../../watering/desk/watering-desk.js';

/** A climate reading older than this says nothing about the present. */
const STALE_MS = MS_PER_HOUR;
/** The rate is worked out anew this often. */
const RENEW_MS = 10 * MS_PER_MIN;
/** Over a longer silence nothing is expected. */
const LONGEST_STEP_MS = 4 * MS_PER_HOUR;
/** Nineteen in twenty trays dry faster than this share of the physics (prior spread of the rate, natural log 0.35, and the air speed). */
const LOW_SHARE = 0.4;
const STILL_AIR_M_PER_S = 0.05;

interface Timed {
  readonly atMs: number;
  readonly value: number;
}

interface BenchAir {
  temperatureC?: Timed;
  relativeHumidityPct?: Timed;
  solarWPerM2?: Timed;
}

interface Rate {
  readonly trayId: string;
  readonly workedOutAtMs: number;
  readonly perH: number | undefined;
}

/** Which trays stand, and which probe in which. */
export type StandingTrays = Pick<WateringDesk, 'trays' | 'probeTrays'>;

/**
 * The least that a witness block should lose between two readings of its probe, by physics and the bench's air alone:
 * what the probe itself says must not count when the probe is in doubt.
 */
export class ExpectedDrying {
  private readonly air = new Map<string, BenchAir>();
  private readonly rates = new Map<string, Rate>();
  private readonly lastMs = new Map<string, number>();

  /** A believed reading of a climate probe; others are ignored. */
  noteClimate(probe: ProbeConfig, atMs: number, value: number): void {
    if (!('bench' in probe)) return;
    const air = this.air.get(probe.bench) ?? {};
    this.air.set(probe.bench, air);
    if (probe.kind === 'air-temperature') air.temperatureC = { atMs, value };
    else if (probe.kind === 'relative-humidity') air.relativeHumidityPct = { atMs, value };
    else air.solarWPerM2 = { atMs, value: probe.unit === 'lx' ? solarWPerM2FromLux(value) : value };
  }

  /** m³/m³ since this probe's last reading; undefined where it stands in no tray or the air of the bench is not known. */
  sinceLast(probeId: string, atMs: number, trays: StandingTrays): number | undefined {
    const trayId = trays.probeTrays().get(probeId);
    if (trayId === undefined) return undefined;
    const elapsedMs = atMs - (this.lastMs.get(probeId) ?? atMs);
    this.lastMs.set(probeId, atMs);
    if (elapsedMs < 0 || elapsedMs > LONGEST_STEP_MS) return undefined;
    let rate = this.rates.get(probeId);
    if (rate?.trayId !== trayId || atMs - rate.workedOutAtMs > RENEW_MS) {
      const tray = trays.trays().find(({ id }) => id === trayId);
      const perH = tray?.hasProbe === true ? this.perH(tray, atMs) : undefined;
      rate = { trayId, workedOutAtMs: atMs, perH };
      this.rates.set(probeId, rate);
    }
    return rate.perH === undefined ? undefined : (rate.perH * elapsedMs) / MS_PER_HOUR;
  }

  private perH(tray: TrayNow, atMs: number): number | undefined {
    const air = this.air.get(tray.benchId);
    const fresh = (reading: Timed | undefined): number | undefined =>
      reading !== undefined && atMs - reading.atMs <= STALE_MS ? reading.value : undefined;
    const temperatureC = fresh(air?.temperatureC);
    const relativeHumidityPct = fresh(air?.relativeHumidityPct);
    if (temperatureC === undefined || relativeHumidityPct === undefined) return undefined;
    const solar = Math.max(0, fresh(air?.solarWPerM2) ?? 0);
    const exchange = trayExchange(tray, STILL_AIR_M_PER_S);
    const weather = { temperatureC, vpdKPa: vpdKPa(temperatureC, relativeHumidityPct), solarWPerM2: solar };
    return LOW_SHARE * potentialDryingPerH({ exchange, cover: tray.cover, leafShare: 0 }, weather);
  }
}
