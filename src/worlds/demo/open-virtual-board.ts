import type { BoardConfig } from '../../../shared/config/kit/hookup.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import type { VirtualBench } from './virtual-bench/virtual-bench.js';
import { createVirtualBoard, type VirtualBoard } from './virtual-board/virtual-board.js';
import { wireBoard } from './virtual-board/wire-board.js';

/**
 * Opens the line to a virtual board, in the place of a serial port: every opening gives a board that has just started.
 * @param nowMs farm time, to which the bench is moved whenever a probe is read
 */
export function virtualBoardOpener(
  bench: VirtualBench,
  probes: readonly ProbeConfig[],
  nowMs: () => number,
): (board: BoardConfig) => Promise<VirtualBoard> {
  return async (board) => createVirtualBoard(wireBoard({ board, probes, bench, nowMs }));
}
