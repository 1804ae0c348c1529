import { FIRMATA } from './firmata-bytes.js';

/** One message from the host. */
export type HostMessage =
  | { readonly kind: 'sysex'; readonly command: number; readonly data: readonly number[] }
  | { readonly kind: 'message'; readonly status: number; readonly first: number; readonly second: number };

/** Longest sysex that the firmware's buffer takes (MAX_DATA_BYTES of StandardFirmata); longer ones are dropped. */
const MAX_SYSEX_BYTES = 64;

/** Data bytes after a status byte; channel messages by their upper half. */
function dataBytes(status: number): number | undefined {
  const upper = status < 0xf0 ? status & 0xf0 : status;
  if (upper === FIRMATA.reportAnalog || upper === FIRMATA.reportDigital) return 1;
  if (upper === FIRMATA.digitalMessage || upper === FIRMATA.analogMessage) return 2;
  if (upper === FIRMATA.pinMode || upper === FIRMATA.pinValue) return 2;
  if (upper === FIRMATA.reportVersion || upper === FIRMATA.systemReset) return 0;
  return undefined;
}

/** Byte for byte, as the firmware reads: unknown bytes are skipped, an overlong sysex is dropped. */
export function createFirmataParser(onMessage: (message: HostMessage) => void): (byte: number) => void {
  let inSysex = false;
  let sysexBytes: number[] = [];
  let status: number | undefined;
  let data: number[] = [];

  const finish = (): void => {
    if (status !== undefined)
      onMessage({ kind: 'message', status, first: data[0] ?? 0, second: data[1] ?? 0 });
    status = undefined;
    data = [];
  };

  return (byte) => {
    if (inSysex) {
      if (byte !== FIRMATA.endSysex) {
        sysexBytes.push(byte);
        return;
      }
      inSysex = false;
      const [command, ...rest] = sysexBytes;
      if (command !== undefined && sysexBytes.length <= MAX_SYSEX_BYTES)
        onMessage({ kind: 'sysex', command, data: rest });
      sysexBytes = [];
      return;
    }
    if (byte < 0x80) {
      if (status === undefined) return;
      data.push(byte);
      if (data.length === dataBytes(status)) finish();
      return;
    }
    data = [];
    status = undefined;
    if (byte === FIRMATA.startSysex) {
      inSysex = true;
      sysexBytes = [];
    } else if (dataBytes(byte) !== undefined) {
      status = byte;
      if (dataBytes(byte) === 0) finish();
    }
  };
}
