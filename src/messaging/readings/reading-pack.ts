import type { RawUnit } from '../../../shared/facts/reading.js';
import type { SenmlPack, SenmlRecord } from '../../../shared/wire/senml.js';
import type { JudgedReading } from '../../monitor/ports/facts.js';

/** SenML name, unit and scale of a raw value. Grams are starred in RFC 8428 §12.1, so mass goes out in kg. */
const RAW: Readonly<Record<RawUnit, { readonly n: string; readonly u: string; readonly scale: number }>> = {
  V: { n: 'voltage', u: 'V', scale: 1 },
  Cel: { n: 'temperature', u: 'Cel', scale: 1 },
  '%RH': { n: 'humidity', u: '%RH', scale: 1 },
  lx: { n: 'light', u: 'lx', scale: 1 },
  'W/m2': { n: 'light', u: 'W/m2', scale: 1 },
  g: { n: 'mass', u: 'kg', scale: 1e-3 },
};

function recordsOf(reading: JudgedReading, t: number): SenmlRecord[] {
  const { n, u, scale } = RAW[reading.rawUnit];
  const records: SenmlRecord[] = [];
  const { rawValue, waterContentM3PerM3 } = reading;
  if (rawValue !== undefined && Number.isFinite(rawValue))
    records.push({ n, u, v: scale === 1 ? rawValue : Number((rawValue * scale).toPrecision(12)) });
  if (waterContentM3PerM3 !== undefined && Number.isFinite(waterContentM3PerM3))
    records.push({ n: 'water-content', u: '/', v: waterContentM3PerM3 });
  records.push({ n: 'flag', v: reading.flag });
  if (reading.flagReasons.length > 0) records.push({ n: 'flag-reasons', vs: reading.flagReasons.join(' ') });
  if (reading.calibrationId !== undefined) records.push({ n: 'calibration', vs: reading.calibrationId });
  return t === 0 ? records : records.map((record) => ({ ...record, t }));
}

/**
 * Readings of one probe as one SenML pack (RFC 8428): raw value in its own unit (mass in kg), water content as a
 * ratio m3/m3 with unit "/", the QARTOD flag as a bare number, reasons and calibration as strings.
 * Names are `drybell:<farm>:<probe>:voltage` and so on; times are seconds since 1970.
 * Throws RangeError for an empty list.
 */
export function readingPack(farm: string, readings: readonly JudgedReading[]): SenmlPack {
  const first = readings[0];
  if (first === undefined) throw new RangeError('a pack needs at least one reading');
  const bt = first.observedAtMs / 1000;
  const [head, ...rest] = readings.flatMap((reading) =>
    recordsOf(reading, (reading.observedAtMs - first.observedAtMs) / 1000),
  );
  return [{ bn: `drybell:${farm}:${first.probeId}:`, bt, ...head }, ...rest];
}

/** Groups readings by probe, order kept. */
export function byProbe(readings: readonly JudgedReading[]): ReadonlyMap<string, readonly JudgedReading[]> {
  const groups = new Map<string, JudgedReading[]>();
  for (const reading of readings) {
    const group = groups.get(reading.probeId);
    if (group === undefined) groups.set(reading.probeId, [reading]);
    else group.push(reading);
  }
  return groups;
}
