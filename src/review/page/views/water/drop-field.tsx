import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import type { WaterAnswer } from '../../../../../shared/page/page-review.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import type { WaterSums } from './water-sums.js';

interface DropFieldProps {
  readonly answer: WaterAnswer;
  readonly sums: WaterSums;
  readonly units: UnitsConfig;
  readonly dayWords: (day: string) => string;
  readonly label: string;
}

/** The largest drop, where there is room for it. */
const LARGEST_PX = 30;

/** A row of drops for each tray, a column for each day; the area of a drop is its water. */
export function DropField({ answer, sums, units, dayWords, label }: DropFieldProps) {
  const most = Math.max(...sums.columns.flatMap((column) => [...column.mlByTray.values()]), 1);
  const first = sums.columns[0]?.fromDay;
  const last = sums.columns.at(-1)?.fromDay;
  const count = sums.columns.length;
  return (
    <div class="drop-field" role="img" aria-label={label}>
      {answer.trays.map((tray) => {
        const sum = sums.columns.reduce((total, column) => total + (column.mlByTray.get(tray.id) ?? 0), 0);
        return (
          <div key={tray.id} class="drop-row">
            <span class="drop-tray">
              <b>{tray.id}</b> <small>{tray.crop ?? ''}</small>
            </span>
            <span class="drops" style={{ backgroundSize: `${100 / count}% 1px` }}>
              {sums.columns.map((column, place) => {
                const share = Math.sqrt((column.mlByTray.get(tray.id) ?? 0) / most);
                return share === 0 ? null : (
                  <b
                    key={column.fromDay}
                    style={{
                      left: `${((place + 0.5) / count) * 100}%`,
                      width: `${(share / count) * 100}%`,
                      maxWidth: `${share * LARGEST_PX}px`,
                    }}
                  />
                );
              })}
            </span>
            <span class="drop-sum">{waterWords(sum, units)}</span>
          </div>
        );
      })}
      {first !== undefined && last !== undefined && (
        <p class="drop-ends">
          <span>{dayWords(first)}</span>
          <span>{dayWords(last)}</span>
        </p>
      )}
    </div>
  );
}
