/** Bytes of the Firmata protocol, version 2.x (open protocol, github.com/firmata/protocol). */
export const FIRMATA = {
  digitalMessage: 0x90,
  analogMessage: 0xe0,
  reportAnalog: 0xc0,
  reportDigital: 0xd0,
  startSysex: 0xf0,
  pinMode: 0xf4,
  pinValue: 0xf5,
  endSysex: 0xf7,
  reportVersion: 0xf9,
  systemReset: 0xff,
  analogMappingQuery: 0x69,
  analogMappingResponse: 0x6a,
  capabilityQuery: 0x6b,
  capabilityResponse: 0x6c,
  pinStateQuery: 0x6d,
  pinStateResponse: 0x6e,
  stringData: 0x71,
  i2cRequest: 0x76,
  i2cReply: 0x77,
  i2cConfig: 0x78,
  reportFirmware: 0x79,
  samplingInterval: 0x7a,
} as const;

/** Pin modes of the protocol. */
export const PIN_MODE = {
  input: 0,
  output: 1,
  analog: 2,
  pwm: 3,
  servo: 4,
  i2c: 6,
  pullup: 0x0b,
} as const;

/** Each byte as two 7-bit bytes, least significant first. */
export function toSevenBit(bytes: readonly number[]): number[] {
  return bytes.flatMap((byte) => [byte & 0x7f, (byte >> 7) & 0x7f]);
}

/** The inverse; an odd byte at the end is dropped, as the firmware does. */
export function fromSevenBit(pairs: readonly number[]): number[] {
  const bytes: number[] = [];
  for (let i = 0; i + 1 < pairs.length; i += 2) bytes.push((pairs[i] ?? 0) | ((pairs[i + 1] ?? 0) << 7));
  return bytes;
}

export function sysex(command: number, data: readonly number[]): number[] {
  return [FIRMATA.startSysex, command, ...data, FIRMATA.endSysex];
}
