import { type Answer, fault, value } from './answer.js';
import { crc8OneWire } from './crc8.js';

/** What a DS18B20 holds before its first conversion; a bench is never that hot. */
const powerOnC = 85;

/**
 * Nine bytes of a DS18B20's scratchpad: temperature in two's complement of 1/16 °C, low byte first; CRC last
 * (Maxim DS18B20 data sheet 19-7487, figure 4 and table 1).
 * @returns °C
 */
export function decodeDs18b20(scratchpad: readonly number[]): Answer<number> {
  const [low, high] = scratchpad;
  if (scratchpad.length !== 9 || low === undefined || high === undefined)
    return fault(`a DS18B20 sends 9 bytes, here are ${scratchpad.length}`);
  if (crc8OneWire(scratchpad.slice(0, 8)) !== scratchpad[8])
    return fault('the checksum of the DS18B20 is wrong: the wire is too long, or lacks its 4.7 kohm pull-up');
  if (scratchpad.every((byte) => byte === 0))
    return fault('the 1-Wire line is shorted to ground: nine zeros, whose checksum is right');
  const raw = (high << 8) | low;
  const temperatureC = (raw & 0x8000 ? raw - 0x10000 : raw) / 16;
  if (temperatureC === powerOnC)
    return fault('the DS18B20 gives its power-on value of 85 °C: it lost power before it measured');
  return value(temperatureC);
}

/** Text of the kernel's `w1_slave` file: nine bytes in hex, then the kernel's own verdict and value. */
export function decodeW1File(text: string): Answer<number> {
  const bytes = /^((?:[0-9a-f]{2} ){9}):/m.exec(text)?.[1]?.trim().split(' ');
  if (bytes === undefined) return fault('the 1-Wire file has no nine bytes in it');
  return decodeDs18b20(bytes.map((hex) => Number.parseInt(hex, 16)));
}
