import { type Answer, fault, value } from './answer.js';

/** Registers of the Microchip MCP9808 (data sheet DS25095): ambient temperature, manufacturer. */
export const mcp9808TemperatureRegister = 0x05;
export const mcp9808MakerRegister = 0x06;
export const mcp9808Maker: readonly number[] = [0x00, 0x54];

/**
 * Two bytes of the ambient temperature register: three alert flags, then 13 bits in two's complement of 1/16 °C
 * (data sheet DS25095, register 5-4).
 * @returns °C
 */
export function decodeMcp9808(bytes: readonly number[]): Answer<number> {
  const [high, low] = bytes;
  if (bytes.length !== 2 || high === undefined || low === undefined)
    return fault(`an MCP9808 sends 2 bytes, here are ${bytes.length}`);
  const raw = ((high & 0x1f) << 8) | low;
  return value((raw & 0x1000 ? raw - 0x2000 : raw) / 16);
}
