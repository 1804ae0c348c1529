import type { BoardHealth } from '../../monitor/ports/ports.js';

export type BoardState = BoardHealth['state'];

/** Says what a person can do about a board that is not ready. */
export function healthOf(boardId: string, state: BoardState, finding: string): BoardHealth {
  return { boardId, state, sentence: sentenceOf(boardId, state, finding) };
}

function sentenceOf(boardId: string, state: BoardState, finding: string): string {
  switch (state) {
    case 'ready':
      return `Board ${boardId} answers.`;
    case 'connecting':
      return `Board ${boardId} is being connected.`;
    case 'no-board':
      return `Board ${boardId} can't be reached: ${finding}.`;
    case 'wrong-firmware':
      return `Board ${boardId} is plugged in, but ${finding}: load StandardFirmata (firmware-notes/README.md).`;
    case 'silent':
      return `Board ${boardId} is plugged in but says nothing: press its reset button; if that does not help, unplug it for ten seconds, then load StandardFirmata (firmware-notes/README.md).`;
    case 'unplugged':
      return `Board ${boardId} was unplugged or lost power (${finding}): check its USB cable, hub and supply.`;
  }
}
