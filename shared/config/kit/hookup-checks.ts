import { deliveredUnits } from './delivered.js';
import { type BoardConfig, type Hookup, type HookupOf, kindsOfPart } from './hookup.js';

type Report = (path: (string | number)[], message: string) => void;

interface HookedProbe {
  readonly kind: string;
  readonly unit?: string | undefined;
  readonly hookup?: Hookup | undefined;
}

/** Board, multiplexer and part of every hookup fit together. Pins and currents are judged by `drybell wiring`. */
export function checkHookups(
  probes: readonly HookedProbe[],
  boards: readonly BoardConfig[],
  report: Report,
): void {
  probes.forEach(({ kind, hookup, unit: lightUnit }, index) => {
    if (hookup === undefined) return;
    const at = ['probes', index, 'hookup'];
    const kinds = kindsOfPart[hookup.part];
    if (!kinds.includes(kind))
      report([...at, 'part'], `a ${hookup.part} measures ${kinds.join(' and ')}, not ${kind}`);
    if (hookup.part === 'delivered')
      checkDelivered({ kind, lightUnit }, hookup, (key, message) => report([...at, key], message));
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

const ways = ['topic', 'serialPort', 'udpPort'] as const;

function checkDelivered(
  { kind, lightUnit }: { readonly kind: string; readonly lightUnit: string | undefined },
  hookup: HookupOf<'delivered'>,
  report: (key: string, message: string) => void,
): void {
  const given = ways.filter((way) => hookup[way] !== undefined);
  if (given.length !== 1)
    report(
      given[1] ?? 'topic',
      `give one of topic, serialPort and udpPort${given.length === 0 ? '' : `, not ${given.join(' and ')}`}`,
    );
  if (/^drybell\//.test(hookup.topic ?? ''))
    report('topic', 'topics under "drybell/" are what the monitor says; let the node publish elsewhere');
  const fitting: readonly string[] = Object.entries(deliveredUnits).find(([of]) => of === kind)?.[1] ?? [];
  const wanted = kind === 'light' && lightUnit !== undefined ? [lightUnit] : fitting;
  if (hookup.unit !== undefined && !wanted.includes(hookup.unit))
    report('unit', `a probe of ${kind} is delivered in ${wanted.join(' or ')}, not ${hookup.unit}`);
}
