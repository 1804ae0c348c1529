import pc from 'picocolors';
import type { TrayBelief } from '../../../drying/model/farm-model.js';

const DIGITS = 3;

function amount(value: number): string {
  return Math.abs(value) >= 100 ? value.toFixed(0) : value.toPrecision(DIGITS);
}

/**
 * What the model believes of a tray as a table: quantity, value with its standard deviation, where it comes from.
 * @param time how the farm writes an instant
 */
export function beliefPage(belief: TrayBelief, time: (atMs: number) => string): string {
  const rows = belief.lines.map(({ quantity, value, sd, unit, from, pouredAtMs }) => ({
    quantity,
    value: `${amount(value)}${sd === undefined ? '' : ` ± ${amount(sd)}`} ${unit}`,
    from: pouredAtMs === undefined ? from : `${from} ${time(pouredAtMs)}`,
  }));
  const width = (key: 'quantity' | 'value'): number => Math.max(...rows.map((row) => row[key].length));
  const [quantityWidth, valueWidth] = [width('quantity'), width('value')];
  return [
    pc.bold(`What is believed of ${belief.trayId}, ${time(belief.atMs)}`),
    pc.dim('± is one standard deviation'),
    ...rows.map(
      ({ quantity, value, from }) =>
        `  ${quantity.padEnd(quantityWidth)}  ${value.padEnd(valueWidth)}  ${pc.dim(from)}`,
    ),
  ].join('\n');
}
