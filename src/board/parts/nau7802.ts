import { type Answer, fault, value } from './answer.js';

/** Nuvoton NAU7802, 24-bit bridge converter (data sheet rev 2.6). Its address can't be changed. */
export const nau7802Address = 0x2a;

export const powerRegister = 0x00;
export const gainRegister = 0x01;
export const rateRegister = 0x02;
export const resultRegister = 0x12;
const chopperRegister = 0x15;
const bypassRegister = 0x1c;

/** Power register: digital and analog part on, inner supply for the bridge, conversions running. */
export const runningBits = 0x96;
export const poweredUpBit = 0x08;
export const resultReadyBit = 0x20;
const resetBit = 0x01;
/** Bridge supply 3.0 V, gain 128. */
export const gainSetting = 0x2f;
/** Ten conversions a second; inner offset calibration, its busy bit and its failure bit. */
const calibrateBit = 0x04;
export const calibrationBusyBit = 0x04;
export const calibrationFailedBit = 0x08;
/** One conversion at ten a second, with margin. */
export const conversionMs = 110;
/** For the bridge supply to stand (common practice). */
export const supplySettleMs = 250;

/** Register writes that wake the converter, in three steps with a wait after each. */
export const wakeSteps: readonly {
  readonly writes: readonly (readonly number[])[];
  readonly waitMs: number;
}[] = [
  { writes: [[powerRegister, resetBit]], waitMs: 2 },
  {
    writes: [
      [powerRegister, 0x06],
      [gainRegister, gainSetting],
      [powerRegister, 0x86],
      [rateRegister, 0x00],
      [chopperRegister, 0x30],
      [bypassRegister, 0x80],
    ],
    waitMs: supplySettleMs,
  },
  { writes: [[rateRegister, calibrateBit]], waitMs: 4 * conversionMs },
];

/** Three bytes, most significant first, two's complement (data sheet, registers 0x12 to 0x14). */
export function decodeNau7802(bytes: readonly number[]): Answer<number> {
  const [high, middle, low] = bytes;
  if (bytes.length !== 3 || high === undefined || middle === undefined || low === undefined)
    return fault(`a NAU7802 sends 3 bytes, here are ${bytes.length}`);
  const raw = (high << 16) | (middle << 8) | low;
  if (raw === 0x7fffff || raw === 0x800000)
    return fault('the scale is at its end: overloaded, or a bridge wire is loose or swapped');
  return value(raw & 0x800000 ? raw - 0x1000000 : raw);
}
