import type { I2cPart } from './i2c-bus.js';

/** What the part's surroundings are; undefined: the part is not there. */
export type AirReading = () =>
  | { readonly temperatureC: number; readonly relativeHumidityPct: number }
  | undefined;

/** CRC-8 of Sensirion's data sheet: polynomial 0x31, start 0xFF, no reflection; BE EF gives 92. */
export function sensirionCrc(bytes: readonly number[]): number {
  let crc = 0xff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x80 ? ((crc << 1) ^ 0x31) & 0xff : (crc << 1) & 0xff;
  }
  return crc;
}

const word = (share: number): number[] => {
  const value = Math.max(0, Math.min(65535, Math.round(share * 65535)));
  return [value >> 8, value & 0xff];
};

/** Digital thermometer and hygrometer after its data sheet: T = -45 + 175 S / 65535, RH = 100 S / 65535. */
export function createSht31Part(address: number, air: AirReading): I2cPart {
  let measured: number[] = [];
  return {
    address,
    write: ([first]) => {
      // 24xx and 2Cxx start a single-shot measurement, the second byte is its repeatability
      if (first !== 0x24 && first !== 0x2c) return;
      const now = air();
      if (now === undefined) {
        measured = [];
        return;
      }
      const temperature = word((now.temperatureC + 45) / 175);
      const humidity = word(now.relativeHumidityPct / 100);
      measured = [...temperature, sensirionCrc(temperature), ...humidity, sensirionCrc(humidity)];
    },
    read: (count) => {
      const bytes = measured.slice(0, count);
      measured = [];
      return bytes;
    },
  };
}
