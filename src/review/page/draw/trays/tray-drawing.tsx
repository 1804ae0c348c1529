import type { Cover } from '../../../../../shared/config/trays.js';
import { soilColour } from './soil-colour.js';
import { blocksPath, TRAY_DEEP_MM, TRAY_WIDE_MM } from './tray-grid.js';

interface TrayDrawingProps {
  readonly blockCount: number;
  readonly blockSideMm: number;
  readonly moistureIndex: number | undefined;
  readonly cover: Cover;
  /** Water stands between the blocks: it was poured a short while ago. */
  readonly justWatered: boolean;
}

const RIM_MM = 16;

/** One tray seen from above, every block drawn to scale in the colour of its soil. Decoration: the words stand beside it. */
export function TrayDrawing({
  blockCount,
  blockSideMm,
  moistureIndex,
  cover,
  justWatered,
}: TrayDrawingProps) {
  return (
    <svg
      class="tray-drawing"
      viewBox={`${-RIM_MM} ${-RIM_MM} ${TRAY_WIDE_MM + 2 * RIM_MM} ${TRAY_DEEP_MM + 2 * RIM_MM}`}
      aria-hidden="true"
    >
      <rect
        class="tray-rim"
        x={-RIM_MM}
        y={-RIM_MM}
        width={TRAY_WIDE_MM + 2 * RIM_MM}
        height={TRAY_DEEP_MM + 2 * RIM_MM}
        rx="18"
      />
      <rect
        class={justWatered ? 'tray-floor standing-water' : 'tray-floor'}
        width={TRAY_WIDE_MM}
        height={TRAY_DEEP_MM}
        rx="6"
      />
      <path d={blocksPath(blockCount, blockSideMm)} fill={soilColour(moistureIndex)} />
      {cover !== 'none' && (
        <g class={`cover cover-${cover}`}>
          <rect
            x="-4"
            y="-4"
            width={TRAY_WIDE_MM + 8}
            height={TRAY_DEEP_MM + 8}
            rx={cover === 'film' ? 4 : 40}
          />
          <path
            d={`M40 ${TRAY_DEEP_MM - 60}L${TRAY_DEEP_MM - 60} 40M120 ${TRAY_DEEP_MM - 40}L${TRAY_DEEP_MM - 20} 80`}
          />
        </g>
      )}
    </svg>
  );
}
