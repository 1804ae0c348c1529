import { type BoardConfig, type Hookup, kindsOfPart } from './hookup.js';

type Report = (path: (string | number)[], message: string) => void;

interface HookedProbe {
  readonly kind: string;
  readonly hookup?: Hookup | undefined;
}

/** Board, multiplexer and part of every hookup fit together. Pins and currents are judged by `drybell wiring`. */
export function checkHookups(
  probes: readonly HookedProbe[],
  boards: readonly BoardConfig[],
  report: Report,
): void {
  probes.forEach(({ kind, hookup }, index) => {
    if (hookup === undefined) return;
    const at = ['probes', index, 'hookup'];
    const kinds = kindsOfPart[hookup.part];
    if (!kinds.includes(kind))
      report([...at, 'part'], `a ${hookup.part} measures ${kinds.join(' and ')}, not ${kind}`);
    if (!('board' in hookup)) return;
    const board = boards.find(({ id }) => id === hookup.board);
    if (board === undefined) {
      report([...at, 'board'], `there is no board "${hookup.board}"; add it under boards`);
      return;
    }
    if (!('input' in hookup)) return;
    const [multiplexer, channel] = hookup.input.split('.');
    if (channel !== undefined && !board.multiplexers.some(({ id }) => id === multiplexer))
      report(
        [...at, 'input'],
        `board "${board.id}" has no multiplexer "${multiplexer}"; add it under its multiplexers`,
      );
  });
  boards.forEach((board, index) => {
    board.multiplexers.forEach(({ id }, place) => {
      if (board.multiplexers.findIndex((other) => other.id === id) !== place)
        report(['boards', index, 'multiplexers', place, 'id'], `"${id}" is used twice; ids must differ`);
    });
  });
}
