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
/** Share of a day's room that its jar takes. */
const JAR_SHARE = 0.84;
/** Where the words over the fullest jar stand to the left of its right edge, not to run over the page's. */
const LATE_FROM = 0.5;

const shareWords = (part: number, whole: number): string => `${(part / whole) * 100}%`;

/** Water of each day or week, as jars filled by block size. */
export function WaterColumns({ sums, names, units, dayWords, label }: WaterColumnsProps) {
  const most = Math.max(...sums.columns.map((column) => column.ml), 1);
  const days = sums.columns.map((column) => column.fromDay);
  const ends = [...new Set([days.at(0), days.at(days.length >> 1), days.at(-1)])].filter(
    (day) => day !== undefined,
  );
  const fullest = sums.columns.findIndex((column) => column.ml === most);
  const isLate = fullest > sums.columns.length * LATE_FROM;
  return (
    <>
      <div class="jars" role="img" aria-label={label}>
        {fullest >= 0 && (
          <span
            class="jar-amount"
            style={
              isLate
                ? { right: shareWords(sums.columns.length - fullest - 1, sums.columns.length) }
                : { left: shareWords(fullest, sums.columns.length) }
            }
          >
            {waterWords(most, units)}
          </span>
        )}
        <svg viewBox={`0 0 ${sums.columns.length} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
          {sums.columns.map((column, place) => {
            let filled = 0;
            return (
              <g key={column.fromDay} transform={`translate(${place + (1 - JAR_SHARE) / 2})`}>
                <rect class="jar-glass" width={JAR_SHARE} height={HIGH} />
                {sums.sizes.map((size, rank) => {
                  const share = ((column.mlBySize.get(size) ?? 0) / most) * HIGH;
                  filled += share;
                  return share === 0 ? null : (
                    <rect
                      key={size}
                      y={HIGH - filled}
                      width={JAR_SHARE}
                      height={Math.max(0, share - 0.6)}
                      fill={sizeInk(rank).line}
                    />
                  );
                })}
              </g>
            );
          })}
        </svg>
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
