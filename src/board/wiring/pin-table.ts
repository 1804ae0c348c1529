import type { BoardProbe } from '../hooked-probe.js';
import { boardMa } from './power-conflicts.js';
import { wireColours } from './wire-colours.js';
import type { BoardPlan } from './wiring-plan.js';

/** The wire list of one board as rows: number, from, to, colour. Also the order in which to build. */
export function wireRows(plan: BoardPlan): readonly (readonly [string, string, string, string])[] {
  const colours = wireColours(plan.wires.map(({ net }) => net));
  return plan.wires.map(({ number, from, to, net }) => [
    String(number),
    from,
    to,
    colours.get(net)?.name ?? '',
  ]);
}

/** The wire list as aligned plain text, parts and current with it. */
export function pinTableText(plan: BoardPlan, hung: readonly BoardProbe[]): string {
  const header = ['wire', 'from', 'to', 'colour'] as const;
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
    `Supply: USB, ${boardMa(plan.board, hung)} mA of ${plan.board.usbBudgetMa} mA when everything is on.`,
    '',
  ].join('\n');
}
