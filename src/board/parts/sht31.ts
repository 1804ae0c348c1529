import { type Answer, fault, value } from './answer.js';
import { crc8Sensirion } from './crc8.js';

/** Single shot, high repeatability, no clock stretching (Sensirion SHT3x-DIS data sheet, table 9). */
export const sht31MeasureCommand: readonly number[] = [0x24, 0x00];
/** The data sheet allows 15 ms (15.5 ms below 2.4 V supply); a read that comes earlier is refused. */
export const sht31MeasureMs = 20;
export const sht31ReplyBytes = 6;

export interface AirReading {
  readonly temperatureC: number;
  readonly relativeHumidityPct: number;
}

/**
 * Six bytes of an SHT3x: temperature word, CRC, humidity word, CRC. T = −45 + 175·S/65535 °C, RH = 100·S/65535 %
 * (data sheet, section 4.13).
 */
export function decodeSht31(bytes: readonly number[]): Answer<AirReading> {
  const [tHigh, tLow, tCrc, hHigh, hLow, hCrc] = bytes;
  if (
    bytes.length !== sht31ReplyBytes ||
    tHigh === undefined ||
    tLow === undefined ||
    hHigh === undefined ||
    hLow === undefined
  )
    return fault(`an SHT31 sends 6 bytes, here are ${bytes.length}`);
  if (crc8Sensirion([tHigh, tLow]) !== tCrc || crc8Sensirion([hHigh, hLow]) !== hCrc)
    return fault('the checksum of the SHT31 is wrong: the wire picks up noise, or is too long');
  return value({
    temperatureC: -45 + (175 * (tHigh * 256 + tLow)) / 65535,
    relativeHumidityPct: (100 * (hHigh * 256 + hLow)) / 65535,
  });
}
