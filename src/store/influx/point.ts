import type { IPoint } from 'influx';
import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Forecast } from '../../../shared/facts/forecast.js';
import type { CurveSample } from '../../drying/curves/kept-dry-down.js';
import type { Fact, FactKind, JudgedReading } from '../../monitor/ports/facts.js';
import { curveApart } from '../both/curve-apart.js';
import { factTrayId } from '../both/fact-index.js';

/** Who writes: tags of every point, so that many boards share one database. */
export interface Origin {
  readonly farm: string;
  readonly monitor: string;
}

/** Name of the measurement of each kind of fact. */
export function measurementOf(kind: FactKind): string {
  return kind.replaceAll('-', '_');
}

/** Facts of one millisecond and kind are kept apart by the nanoseconds: their number in the spool, modulo this. */
const NUMBERS_PER_MS = 1_000_000;

type Fields = Record<string, number | string>;

/**
 * A fact as an InfluxDB point. Timestamps are whole milliseconds for readings and forecasts, so that the same one sent again
 * overwrites itself; other facts carry their spool number in the nanoseconds, so that a fact sent again overwrites itself
 * and two facts of one instant do not.
 */
export function toPoint(fact: Fact, origin: Origin, number: number, atMs: number): IPoint {
  const tags = { farm: origin.farm, monitor: origin.monitor };
  const measurement = measurementOf(fact.kind);
  if (fact.kind === 'reading') {
    const { probeId, rawUnit, observedAtMs } = fact.reading;
    const fields = readingFields(fact.reading);
    return {
      measurement,
      tags: { ...tags, probe: probeId, rawUnit },
      fields,
      timestamp: nanoseconds(observedAtMs, 0),
    };
  }
  if (fact.kind === 'forecast')
    return {
      measurement,
      tags: { ...tags, tray: fact.forecast.tray },
      fields: forecastFields(fact.forecast),
      timestamp: nanoseconds(atMs, 0),
    };
  const tray = factTrayId(fact);
  const { fact: body, samples } = curveApart(fact);
  return {
    measurement,
    tags: tray === undefined ? tags : { ...tags, tray },
    fields: { body: toField(body), number, ...namedFields(fact), ...curveField(samples) },
    timestamp: nanoseconds(atMs, number % NUMBERS_PER_MS),
  };
}

function nanoseconds(atMs: number, extra: number): string {
  return String(BigInt(Math.round(atMs)) * 1_000_000n + BigInt(extra));
}

/** JSON without apostrophes: the client doubles a backslash that stands before one. */
function toField(value: unknown): string {
  return JSON.stringify(value).replaceAll("'", '\\u0027');
}

function readingFields(reading: JudgedReading): Fields {
  const { rawValue, waterContentM3PerM3, flag, flagReasons, calibrationId } = reading;
  const isSound = [rawValue, waterContentM3PerM3].every(
    (value) => value === undefined || Number.isFinite(value),
  );
  const reasons = isSound ? flagReasons : [...flagReasons, 'not-finite'];
  const fields: Fields = { flag: isSound ? flag : 9 };
  if (rawValue !== undefined && Number.isFinite(rawValue)) fields['rawValue'] = rawValue;
  if (waterContentM3PerM3 !== undefined && Number.isFinite(waterContentM3PerM3))
    fields['waterContentM3PerM3'] = waterContentM3PerM3;
  if (reasons.length > 0) fields['flagReasons'] = toField(reasons);
  if (calibrationId !== undefined) fields['calibrationId'] = toField(calibrationId);
  return fields;
}

function forecastFields(forecast: Forecast): Fields {
  const { hoursToRefill: mean, hoursToRefillDriestTenth: driest } = forecast;
  const fields: Fields = { waterContentM3PerM3: forecast.waterContentM3PerM3, body: toField(forecast) };
  const hours = {
    p10H: mean.p10,
    p50H: mean.p50,
    p90H: mean.p90,
    driestTenthP50H: driest.p50,
  };
  for (const [name, value] of Object.entries(hours)) if (value !== null) fields[name] = value;
  return fields;
}

/** Hours since the watering and water content in m3/m3 by turns, as a JSON list. */
function curveField(samples: readonly CurveSample[] | undefined): Fields {
  if (samples === undefined) return {};
  return {
    curve: toField(samples.flatMap(({ elapsedH, waterContentM3PerM3 }) => [elapsedH, waterContentM3PerM3])),
  };
}

/** Fields beside the body for people who query the database themselves. */
function namedFields(fact: Fact): Fields {
  switch (fact.kind) {
    case 'alarm':
      return { kind: fact.transition.kind, state: fact.transition.state };
    case 'watering': {
      const { source, ml, askedMl, takenUpMl } = fact.watering;
      return {
        source,
        ...(ml === undefined ? {} : { ml }),
        ...(askedMl === undefined ? {} : { askedMl }),
        ...(takenUpMl === undefined ? {} : { takenUpMl }),
      };
    }
    case 'dry-down':
      return { hours: (fact.dryDown.endedAtMs - fact.dryDown.startedAtMs) / MS_PER_HOUR };
    default:
      return {};
  }
}
