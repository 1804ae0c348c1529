import { type Answer, fault, value } from './answer.js';

/** Measurement time register at which the data sheet's formula stands, the shortest, for full sun, and the longest. */
export const bh1750DefaultTime = 69;
export const bh1750ShortestTime = 31;
export const bh1750LongestTime = 254;

/**
 * Commands of one single-shot, high-resolution measurement (ROHM BH1750FVI data sheet, instruction set): measurement time
 * in two parts, then "one time H-resolution mode".
 */
export function bh1750Commands(measurementTime: number): readonly (readonly number[])[] {
  return [[0x40 | (measurementTime >> 5)], [0x60 | (measurementTime & 0x1f)], [0x20]];
}

/** Longest measurement: 180 ms at the default time, in proportion at others (data sheet, table of characteristics). */
export function bh1750MeasureMs(measurementTime: number): number {
  return Math.ceil((180 * measurementTime) / bh1750DefaultTime);
}

/**
 * Two bytes of a BH1750: lx = count / 1.2 · 69 / measurement time (data sheet, "Adjust measurement result").
 * A full count is more light than the part can tell.
 */
export function decodeBh1750(bytes: readonly number[], measurementTime: number): Answer<number> {
  const [high, low] = bytes;
  if (bytes.length !== 2 || high === undefined || low === undefined)
    return fault(`a BH1750 sends 2 bytes, here are ${bytes.length}`);
  const count = high * 256 + low;
  if (count === 0xffff)
    return fault('the light is above what the BH1750 can tell; put a white diffuser over it');
  return value((count / 1.2) * (bh1750DefaultTime / measurementTime));
}
