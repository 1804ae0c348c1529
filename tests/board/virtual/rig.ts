import { type BoardConfig, boardSchema } from '../../../shared/config/kit/hookup.js';
import { type ProbeConfig, probeSchema } from '../../../shared/config/kit/probes.js';
import { BoardOpenError } from '../../../src/board/serial/open-error.js';
import { boardWords } from '../../../src/board/station/board-health.js';
import type { DetailedSample } from '../../../src/board/station/detailed-sample.js';
import { type BoardProbeReader, createProbeReader } from '../../../src/board/station/probe-reader.js';
import { PluggedUno } from './usb-cable.js';
import { VirtualTime } from './virtual-time.js';

/** Longer than a boot and a handshake, shorter than a heartbeat. */
const connectMs = 5_000;

export interface Rig {
  readonly time: VirtualTime;
  readonly plugged: PluggedUno;
  readonly reader: BoardProbeReader;
  readonly complaints: unknown[];
  /** One sample of every probe, by probe id. */
  sample(): Promise<Record<string, DetailedSample>>;
  state(): string | undefined;
  sentence(): string;
  /** Runs virtual time until the board has this state. */
  untilState(state: string, limitMs: number): Promise<number>;
  close(): Promise<void>;
}

export interface RigOptions {
  readonly board?: Record<string, unknown>;
  readonly probes?: readonly Record<string, unknown>[];
  /** The port does not open at all. */
  readonly failToOpen?: BoardOpenError;
}

/** A reader with one board "b1", and an emulated Uno with real firmware at the end of its cable. */
export function buildRig({ board = {}, probes = [], failToOpen }: RigOptions): Rig {
  const time = new VirtualTime();
  const plugged = new PluggedUno(time);
  const complaints: unknown[] = [];
  const boards: BoardConfig[] = [boardSchema.parse({ id: 'b1', ...board })];
  const configured: ProbeConfig[] = probes.map((probe) => probeSchema.parse(probe));
  const reader = createProbeReader({
    boards,
    probes: configured,
    clock: time,
    ioClock: time,
    openTransport: async () => {
      if (failToOpen !== undefined) throw failToOpen;
      if (!plugged.plugged) throw new BoardOpenError('BOARD_NOT_FOUND', 'no board is plugged in');
      return plugged.open();
    },
    random: () => 0,
    complain: (_boardId, cause) => complaints.push(cause),
  });
  const state = () => reader.health()[0]?.state;
  return {
    time,
    plugged,
    reader,
    complaints,
    state,
    sentence: () => {
      const [board] = reader.health();
      return board === undefined ? '' : boardWords(board);
    },
    async sample() {
      const samples = await time.until(reader.sample(new AbortController().signal));
      return Object.fromEntries(samples.map((sample) => [sample.probeId, sample]));
    },
    async untilState(wanted, limitMs) {
      const startedMs = time.monotonicMs();
      while (state() !== wanted) {
        if (time.monotonicMs() - startedMs > limitMs)
          throw new Error(`the board is ${state()} after ${limitMs} ms, expected ${wanted}`);
        await time.advance(250);
      }
      return time.monotonicMs() - startedMs;
    },
    close: async () => await time.until(reader.close()),
  };
}

/** The same, once the board has answered. */
export async function readyRig(options: RigOptions): Promise<Rig> {
  const rig = buildRig(options);
  await rig.untilState('ready', connectMs);
  return rig;
}

/** A block-moisture probe on an input of board "b1". */
export function moistureOn(input: string, id = 'moist-t1'): Record<string, unknown> {
  return { id, kind: 'block-moisture', hookup: { part: 'capacitive-moisture', board: 'b1', input } };
}
