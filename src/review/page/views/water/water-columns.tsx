import type { UnitsConfig } from '../../../../../shared/config/notices.js';
import { sizeInk } from '../../draw/size-inks.js';
import { waterWords } from '../../texts/amounts/amounts.js';
import type { WaterSums } from './water-sums.js';

interface WaterColumnsProps {
  readonly sums: WaterSums;
  readonly names: readonly string[];
  readonly units: UnitsConfig;
  readonly dayWords: (day: string) => string;
  readonly label: string;
}

const HIGH = 100;

/** Water of each day or week, as jars filled by block size. */
export function WaterColumns({ sums, names, units, dayWords, label }: WaterColumnsProps) {
  const most = Math.max(...sums.columns.map((column) => column.ml), 1);
  const days = sums.columns.map((column) => column.fromDay);
  const ends = [...new Set([days.at(0), days.at(days.length >> 1), days.at(-1)])].filter(
    (day) => day !== undefined,
  );
  return (
    <>
      <div class="jars" role="img" aria-label={label}>
        {sums.columns.map((column) => {
          let filled = 0;
          return (
            <div key={column.fromDay} class="jar">
              <span class="jar-amount">{column.ml === most ? waterWords(column.ml, units) : ''}</span>
              <svg viewBox={`0 0 10 ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
                <rect class="jar-glass" width="10" height={HIGH} />
                {sums.sizes.map((size, rank) => {
                  const share = ((column.mlBySize.get(size) ?? 0) / most) * HIGH;
                  filled += share;
                  return (
                    <rect
                      key={size}
                      y={HIGH - filled}
                      width="10"
                      height={Math.max(0, share - 0.6)}
                      fill={sizeInk(rank).line}
                    />
                  );
                })}
              </svg>
            </div>
          );
        })}
      </div>
      <p class="drop-ends" aria-hidden="true">
        {ends.map((day) => (
          <span key={day}>{dayWords(day)}</span>
        ))}
      </p>
      <ul class="key">
        {names.map((name, rank) => (
          <li key={name}>
            <i style={{ background: sizeInk(rank).line }} />
            {name}
          </li>
        ))}
      </ul>
    </>
  );
}
