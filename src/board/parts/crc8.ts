/**
 * CRC-8 of Sensirion parts: polynomial 0x31, start 0xFF, most significant bit first.
 * @returns 0 to 255
 */
export function crc8Sensirion(bytes: readonly number[]): number {
  let crc = 0xff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = ((crc & 0x80) === 0 ? crc << 1 : (crc << 1) ^ 0x31) & 0xff;
  }
  return crc;
}

/**
 * CRC-8 of the 1-Wire bus: x^8 + x^5 + x^4 + 1, least significant bit first, start 0 (Maxim application note 27).
 * @returns 0 to 255
 */
export function crc8OneWire(bytes: readonly number[]): number {
  let crc = 0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc & 1) === 0 ? crc >> 1 : (crc >> 1) ^ 0x8c;
  }
  return crc;
}
