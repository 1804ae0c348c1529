import { soilColour } from './soil-colour.js';

interface BlockProps {
  readonly sideMm: number;
  /** 0 refill point, 1 container capacity; undefined: unknown. */
  readonly moistureIndex: number | undefined;
  readonly sprouted: boolean;
  /** What a reader hears; absent where the words beside it say the same. */
  readonly label?: string;
}

/** Drawn side for the smallest and largest usual block, in the drawing's units of a 72-unit square. */
const SMALLEST = { sideMm: 15, drawn: 22 };
const LARGEST = { sideMm: 60, drawn: 46 };

function drawnSide(sideMm: number): number {
  const share = (sideMm - SMALLEST.sideMm) / (LARGEST.sideMm - SMALLEST.sideMm);
  return SMALLEST.drawn + Math.min(1, Math.max(0, share)) * (LARGEST.drawn - SMALLEST.drawn);
}

const points = (...pairs: readonly (readonly [number, number])[]): string =>
  pairs.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ');

/**
 * One block, as it stands in its tray: drawn to its size, the dark front of water as high as the block is full. It is
 * watered from below, so that is where it is dark.
 */
export function BlockDrawing({ sideMm, moistureIndex, sprouted, label }: BlockProps) {
  const side = drawnSide(sideMm);
  const slant = side * 0.32;
  const left = (72 - side - slant) / 2;
  const top = 66 - side;
  const right = left + side;
  const bottom = top + side;
  const full = Math.min(1, Math.max(0, moistureIndex ?? 0));
  const front = bottom - side * full;
  const rise = slant * 0.62;
  const middle = left + (side + slant) / 2;
  const soil = soilColour(moistureIndex === undefined ? undefined : Math.min(0.3, moistureIndex));
  return (
    <svg class="block" viewBox="0 0 72 72" role="img" aria-label={label} aria-hidden={label === undefined}>
      <polygon
        points={points([left, top], [left + slant, top - rise], [right + slant, top - rise], [right, top])}
        fill={soil}
        class="block-top"
      />
      <polygon
        points={points(
          [right, top],
          [right + slant, top - rise],
          [right + slant, bottom - rise],
          [right, bottom],
        )}
        fill={soil}
      />
      <rect x={left} y={top} width={side} height={side} fill={soil} />
      {moistureIndex !== undefined && full > 0 && (
        <g fill={soilColour(0.75 + full * 0.25)}>
          <rect x={left} y={front} width={side} height={bottom - front} />
          <polygon
            points={points(
              [right, front],
              [right + slant, front - rise],
              [right + slant, bottom - rise],
              [right, bottom],
            )}
          />
          {full > 0.985 && (
            <polygon
              points={points(
                [left, top],
                [left + slant, top - rise],
                [right + slant, top - rise],
                [right, top],
              )}
            />
          )}
        </g>
      )}
      <polygon
        class="block-shade"
        points={points(
          [right, top],
          [right + slant, top - rise],
          [right + slant, bottom - rise],
          [right, bottom],
        )}
      />
      <path
        class="block-edge"
        d={`M${left} ${top}H${right}V${bottom}H${left}zM${left} ${top}l${slant} ${-rise}h${side}l${-slant} ${rise}M${right + slant} ${top - rise}v${side}l${-slant} ${rise}`}
      />
      {sprouted ? (
        <g class="sprout" transform={`translate(${middle} ${top - rise / 2})`}>
          <path d="M0 0V-10" fill="none" />
          <path d="M0-9c-8 1-11-3-12-8 7-1 11 2 12 8zM0-9c1-6 5-9 12-8-1 5-4 9-12 8z" />
        </g>
      ) : (
        <ellipse class="dimple" cx={middle} cy={top - rise / 2} rx={side * 0.11} ry={rise * 0.16} />
      )}
    </svg>
  );
}
