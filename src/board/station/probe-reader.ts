import type { Duplex } from 'node:stream';
import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { Clock, ProbeReader } from '../../monitor/ports/ports.js';
import { type BoardProbe, isBoardProbe, isW1Probe } from '../kit/hooked-probe.js';
import { ioClock as realTime } from '../line/io-clock.js';
import { readW1 } from '../readers/read-w1.js';
import { BoardStation } from './board-station.js';
import type { DetailedSample } from './detailed-sample.js';
import { sampleBoard } from './sample-board.js';

export interface BoardProbeReader extends ProbeReader {
  sample(signal: AbortSignal): Promise<readonly DetailedSample[]>;
}

export interface ProbeReaderOptions {
  readonly boards: readonly BoardConfig[];
  /** All probes of the farm; those without a hookup are left to others. */
  readonly probes: readonly ProbeConfig[];
  /** Stamps readings, and times settling and conversion: a demo's clock may be fast. */
  readonly clock: Clock;
  /** The bare line to a board: `openSerialPort`, or a virtual board. Rejects with a BoardOpenError. */
  readonly openTransport: (board: BoardConfig) => Promise<Duplex>;
  /** Uniform in [0, 1); spreads the retries of several boards. */
  readonly random: () => number;
  /** Real time for time-outs and retries; the machine's own when absent. */
  readonly ioClock?: Clock;
  /** Told of faults in the libraries below, which the reader survives. */
  readonly complain?: (boardId: string, cause: unknown) => void;
  /** Where the kernel shows 1-Wire probes. */
  readonly w1Folder?: string;
}

/** Reads the probes of all boards of one machine. Starts to connect at once; `health` says how far it is. */
export function createProbeReader(options: ProbeReaderOptions): BoardProbeReader {
  const { clock, probes, ioClock = realTime, w1Folder = '/sys/bus/w1/devices' } = options;
  const listeners: ((boardId: string) => void)[] = [];
  const onBoard = (boardId: string): readonly BoardProbe[] =>
    probes.filter(isBoardProbe).filter(({ hookup }) => hookup.board === boardId);
  const stations = options.boards.map((board) => {
    const usesI2c = onBoard(board.id).some(({ hookup }) => !('input' in hookup));
    const tools = {
      openTransport: options.openTransport,
      ioClock,
      random: options.random,
      complain: options.complain ?? (() => undefined),
    };
    return new BoardStation(board, usesI2c, tools, (boardId) => {
      for (const listener of listeners) listener(boardId);
    });
  });

  async function sampleW1(): Promise<readonly DetailedSample[]> {
    return await Promise.all(
      probes.filter(isW1Probe).map(async ({ id, hookup }) => {
        const answer = await readW1(w1Folder, hookup.w1Id, ioClock);
        const observedAtMs = clock.nowMs();
        return answer.kind === 'value'
          ? { probeId: id, observedAtMs, rawValue: answer.value }
          : { probeId: id, observedAtMs, rawValue: undefined, reason: answer.reason };
      }),
    );
  }

  return {
    async sample(signal) {
      signal.throwIfAborted();
      const parts = await Promise.all([
        ...stations.map((station) =>
          sampleBoard(station, onBoard(station.board.id), { clock, ioClock, signal }),
        ),
        sampleW1(),
      ]);
      return parts.flat();
    },
    health: () => stations.map((station) => station.health()),
    async showCall(lit) {
      for (const station of stations) station.showCall(lit);
    },
    onAcknowledge(listener) {
      listeners.push(listener);
    },
    async close() {
      await Promise.all(stations.map((station) => station.close()));
    },
  };
}
