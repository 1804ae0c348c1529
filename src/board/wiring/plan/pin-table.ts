import { groupBy } from '../../kit/group-by.js';
import type { BoardProbe } from '../../kit/hooked-probe.js';
import type { ComponentKind } from '../cards/component.js';
import { wireColours } from '../cards/wire-colours.js';
import { boardMa } from '../conflicts/power-conflicts.js';
import type { BoardPlan } from './wiring-plan.js';

type WireRow = readonly [wire: string, from: string, to: string, colour: string, most: string, gauge: string];

/** The wire list of one board as rows. Also the order in which to build. */
export function wireRows(plan: BoardPlan): readonly WireRow[] {
  const colours = wireColours(plan.wires.map(({ net }) => net));
  return plan.wires.map(({ number, from, to, net, longestM, gaugeMm2 }) => [
    String(number),
    from,
    to,
    colours.get(net)?.name ?? '',
    `${longestM} m`,
    `${gaugeMm2} mm²`,
  ]);
}

/** What each leg of a three-legged part is called. */
const legs: { readonly [K in ComponentKind]?: readonly string[] } = {
  'p-mosfet': ['drain', 'gate', 'source'],
  'n-mosfet': ['drain', 'gate', 'source'],
  reference: ['cathode', 'anode'],
};

/** Every small part with the points between which it stands, card by card. */
export function partRows(plan: BoardPlan): readonly string[] {
  return plan.cards.flatMap(({ title, components }) =>
    components.map(({ kind, name, nodes }) => {
      const names = legs[kind];
      const points = nodes.map((node, index) =>
        names?.[index] === undefined ? node : `${names[index]} ${node}`,
      );
      return `${title}: ${name}: ${points.join(' – ')}`;
    }),
  );
}

/** Small parts in the enclosure, as a shopping list: how many of each. */
export function smallParts(plan: BoardPlan): readonly string[] {
  const names = plan.cards.flatMap(({ components }) => components.map(({ name }) => name));
  return [...groupBy(names, (name) => name)].map(([name, same]) => `${same.length} × ${name}`);
}

/** The wire list as aligned plain text, parts and current with it. */
export function pinTableText(plan: BoardPlan, hung: readonly BoardProbe[]): string {
  const header: WireRow = ['wire', 'from', 'to', 'colour', 'at most', 'copper'];
  const rows = [header, ...wireRows(plan)];
  const widths = header.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  const lines = rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd(),
  );
  const dividers = plan.cards
    .filter(({ divider }) => divider !== undefined)
    .map(
      ({ title, divider }) =>
        `  ${title}: ${divider?.upper} between VCC and OUT, ${divider?.lower} between OUT and GND`,
    );
  const notes = plan.cards
    .filter(({ note }) => note !== undefined && note !== '')
    .map(({ title, note }) => `  ${title}: ${note}`);
  return [
    `Board ${plan.board.id} (${plan.board.model})`,
    '',
    ...lines,
    ...(dividers.length > 0 ? ['', 'Resistors:', ...dividers] : []),
    ...(notes.length > 0 ? ['', 'Mind:', ...notes] : []),
    '',
    'In the enclosure, to buy:',
    ...smallParts(plan).map((part) => `  ${part}`),
    '',
    'In the enclosure, to solder (a name with "/" is a point on the board, one with ":" is at the probe):',
    ...partRows(plan).map((row) => `  ${row}`),
    '',
    `Supply: USB, ${boardMa(plan.board, hung)} mA of ${plan.board.usbBudgetMa} mA when everything is on.`,
    '',
  ].join('\n');
}
