import { join } from 'node:path';
import { mountDisk, type SizeLimitedDisk } from '../helpers/size-limited-disk.js';
import { WornCard } from '../helpers/worn-card.js';
import { type Cable, layCable } from '../messaging/cable.js';
import { createMosquitto, LOGIN, type Mosquitto } from '../messaging/mosquitto.js';
import { Influxd } from '../store/helpers/influxd.js';
import { BOARD_VOLTS, BoardPort } from './board-port.js';
import { type InfluxGate, openInfluxGate } from './influx-gate.js';

const DISK_BYTES = 8_000_000;
/** Room for InfluxDB's files of a few minutes. */
const INFLUX_DISK_BYTES = 32_000_000;
const CARD_BYTES = 64_000_000;

/** What a harm needs beside the program. */
export type Need = 'mosquitto' | 'influxd' | 'influx-disk' | 'disk' | 'card' | 'board' | 'clock';

/** Real parts around the program. */
export interface HouseParts {
  readonly broker: Mosquitto | undefined;
  readonly cable: Cable | undefined;
  readonly influx: Influxd | undefined;
  readonly gate: InfluxGate | undefined;
  readonly influxDisk: SizeLimitedDisk | undefined;
  readonly disk: SizeLimitedDisk | undefined;
  readonly card: WornCard | undefined;
  readonly board: BoardPort | undefined;
}

/** Opens what a harm needs; undefined, and nothing stays open, where this machine lacks some of it. */
export async function openParts(needs: readonly Need[]): Promise<HouseParts | undefined> {
  const has = (need: Need) => needs.includes(need);
  const disk = has('disk') ? mountDisk(DISK_BYTES) : undefined;
  const influxDisk = has('influx-disk') ? mountDisk(INFLUX_DISK_BYTES) : undefined;
  const card = has('card') ? WornCard.mount(CARD_BYTES) : undefined;
  const board = has('board') ? await BoardPort.lay() : undefined;
  const found = { disk, 'influx-disk': influxDisk, card, board };
  if (Object.entries(found).some(([need, part]) => has(need as Need) && part === undefined)) {
    disk?.unmount();
    influxDisk?.unmount();
    card?.unmount();
    await board?.close();
    return undefined;
  }
  const broker = has('mosquitto') ? await createMosquitto() : undefined;
  const influx = has('influxd')
    ? await Influxd.start(influxDisk === undefined ? {} : { under: influxDisk.folder })
    : undefined;
  return {
    disk,
    influxDisk,
    card,
    board,
    broker,
    cable: broker === undefined ? undefined : await layCable(broker.port),
    influx,
    gate: influx === undefined ? undefined : await openInfluxGate(influx.port),
  };
}

/** Where the program keeps its files, when it is not beside its configuration. */
export function folderOf({ disk, card }: HouseParts): string | undefined {
  const root = disk?.folder ?? card?.folder;
  return root === undefined ? undefined : join(root, 'data');
}

/** Probes on the board, and the board. */
export function boardConfig(board: BoardPort | undefined): {
  readonly boards: readonly object[];
  readonly probes: readonly object[];
} {
  if (board === undefined) return { boards: [], probes: [] };
  return {
    boards: [{ id: 'board', port: board.port, referenceVolts: 5 }],
    probes: BOARD_VOLTS.map((_, channel) => ({
      id: `moist-${channel}`,
      kind: 'block-moisture',
      hookup: { part: 'capacitive-moisture', board: 'board', input: `A${channel}` },
    })),
  };
}

/** Broker and server as the program's configuration names them. */
export function farConfig({ cable, gate }: HouseParts, listenPort: number) {
  return {
    messaging: cable === undefined ? { listenPort } : { url: `mqtt://127.0.0.1:${cable.port}`, ...LOGIN },
    influx: gate === undefined ? {} : { influx: { url: gate.url, requestTimeoutS: 2 } },
  };
}

export async function closeParts(parts: HouseParts): Promise<void> {
  await parts.board?.close();
  await parts.cable?.close();
  await parts.broker?.close();
  await parts.gate?.close();
  await parts.influx?.stop();
  parts.influxDisk?.unmount();
  parts.disk?.unmount();
  parts.card?.unmount();
}
