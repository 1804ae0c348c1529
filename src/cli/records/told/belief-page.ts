import pc from 'picocolors';
import type { TrayBelief } from '../../../drying/model/farm-model.js';
import type { FarmWords } from '../../../watering/sentences/words/farm-words.js';

const DIGITS = 3;

function amount(value: number): string {
  return Math.abs(value) >= 100 ? value.toFixed(0) : value.toPrecision(DIGITS);
}

/**
 * What the model believes of a tray as a table: quantity, value with its standard deviation, where it comes from.
 * @param words how the farm writes instants and weights
 */
export function beliefPage(belief: TrayBelief, words: FarmWords, nowMs: number): string {
  const time = (atMs: number): string => words.weekdayTime(atMs, nowMs);
  const told = (value: number, sd: number | undefined, unit: string): string => {
    const figure = unit === 'g' ? words.weight : amount;
    const ends = sd === undefined ? [value] : [value, sd];
    return `${ends.map(figure).join(' ± ')}${unit === 'g' ? '' : ` ${unit}`}`;
  };
  const rows = belief.lines.map(({ quantity, value, sd, unit, from, pouredAtMs }) => ({
    quantity,
    value: told(value, sd, unit),
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
