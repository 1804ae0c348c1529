import { useMemo } from 'preact/hooks';
import type uPlot from 'uplot';
import type { SizeCurves } from '../../../../../../shared/page/page-review.js';
import { inkAxis, Plot, writeOn } from '../../../draw/plot.js';
import { sizeInk } from '../../../draw/size-inks.js';
import { useHouse } from '../../../house/house.js';

interface SizePlotProps {
  readonly sizes: readonly SizeCurves[];
  readonly names: readonly string[];
}

type Column = (number | null)[];

/** Drying curves by block size: the middle as a line, eight of ten as a band, each line with its name at its end. */
export function SizePlot({ sizes, names }: SizePlotProps) {
  const { texts } = useHouse();
  const words = texts.review.curves;
  const { data, options } = useMemo(() => {
    const hours = [...new Set(sizes.flatMap((size) => size.band.map((point) => point.elapsedH)))].sort(
      (a, b) => a - b,
    );
    const columns: Column[] = sizes.flatMap((size) => {
      const points = new Map(size.band.map((point) => [point.elapsedH, point]));
      const column = (pick: (point: SizeCurves['band'][number]) => number | null): Column =>
        hours.map((hour) => {
          const point = points.get(hour);
          const value = point === undefined ? null : pick(point);
          return value === null ? null : value * 100;
        });
      return [column((p) => p.p90M3PerM3), column((p) => p.p50M3PerM3), column((p) => p.p10M3PerM3)];
    });
    return { data: [hours, ...columns] as uPlot.AlignedData, options: optionsFor(sizes, names, words) };
  }, [sizes, names.join(), words]);
  return <Plot label={words.plotLabel(names.join(', '))} data={data} options={options} heightPx={340} />;
}

function optionsFor(
  sizes: readonly SizeCurves[],
  names: readonly string[],
  words: { readonly hoursAxis: string; readonly waterAxis: string; readonly refillLine: string },
): Omit<uPlot.Options, 'width' | 'height'> {
  const refills = sizes.flatMap((size) => size.refillPointM3PerM3 ?? []).map((level) => level * 100);
  const edge = { width: 0, points: { show: false } };
  return {
    scales: {
      x: { time: false },
      y: { range: (_plot, low, high) => [Math.max(0, Math.min(low, ...refills) - 3), high + 3] },
    },
    padding: [null, NAME_ROOM_PX, null, null],
    legend: { show: false },
    cursor: { show: false },
    axes: [
      inkAxis({ label: words.hoursAxis, values: (_plot, ticks) => ticks.map((tick) => `${tick}`) }),
      inkAxis({ label: words.waterAxis, size: 40 }),
    ],
    series: [
      {},
      ...sizes.flatMap((_, place) => {
        const ink = sizeInk(place);
        return [
          { ...edge },
          { stroke: ink.line, width: 3, dash: [...ink.dash], points: { show: false } },
          { ...edge },
        ];
      }),
    ],
    bands: sizes.map((_, place) => ({ series: [place * 3 + 1, place * 3 + 3], fill: sizeInk(place).band })),
    hooks: {
      draw: [(plot) => drawRefillLines(plot, sizes, words.refillLine), (plot) => nameLines(plot, names)],
    },
  };
}

/** Where each size wants water: a thin dotted line in its ink, with its word at the left. */
function drawRefillLines(plot: uPlot, sizes: readonly SizeCurves[], word: string): void {
  const { ctx } = plot;
  const scale = devicePixelRatio;
  const { left, width } = plot.bbox;
  const lowest = Math.min(...sizes.flatMap(({ refillPointM3PerM3 }) => refillPointM3PerM3 ?? []));
  sizes.forEach(({ refillPointM3PerM3: refill }, place) => {
    if (refill === undefined) return;
    const y = plot.valToPos(refill * 100, 'y', true);
    ctx.save();
    ctx.strokeStyle = sizeInk(place).line;
    ctx.lineWidth = 1.5 * scale;
    ctx.setLineDash([2 * scale, 4 * scale]);
    ctx.beginPath();
    ctx.moveTo(left, y);
    ctx.lineTo(left + width, y);
    ctx.stroke();
    ctx.restore();
    if (refill === lowest)
      writeOn(plot, word, freeX(plot, word, y + 12 * scale), y + 12 * scale, sizeInk(place).line);
  });
}

/** Half the height of a word with its ground, px; and what is tried next, px further right. */
const WORD_HALF_PX = 10;
const TRY_PX = 12;
const LETTER_PX = 8;

/** The leftmost place at this height where no middle line runs through the word; the left edge where there is none. */
function freeX(plot: uPlot, word: string, y: number): number {
  const scale = devicePixelRatio;
  const wide = word.length * LETTER_PX * scale;
  const half = WORD_HALF_PX * scale;
  const hours = plot.data[0];
  const middles = plot.data.filter((_, place) => place % 3 === 2);
  const isCrossed = (fromX: number): boolean =>
    middles.some((column) =>
      hours.some((hour, place) => {
        const [value, next] = [column[place], column[place + 1]];
        if (value === null || value === undefined) return false;
        const ends = [value, next ?? value].map((one) => plot.valToPos(one, 'y', true));
        const x = plot.valToPos(hour, 'x', true);
        const nextX = plot.valToPos(hours[place + 1] ?? hour, 'x', true);
        const isBeside = nextX < fromX || x > fromX + wide;
        return !isBeside && Math.min(...ends) < y + half && Math.max(...ends) > y - half;
      }),
    );
  const first = plot.bbox.left + 6 * scale;
  for (let x = first; x + wide < plot.bbox.left + plot.bbox.width; x += TRY_PX * scale)
    if (!isCrossed(x)) return x;
  return first;
}

/** Room on the right for the names of lines that end there, and how near two names may come. */
const NAME_ROOM_PX = 66;
const NAME_STEP_PX = 18;

/** Writes each size behind the end of its middle line; names that would meet are moved apart. */
function nameLines(plot: uPlot, names: readonly string[]): void {
  const scale = devicePixelRatio;
  const ends = names.flatMap((name, place) => {
    const column = plot.data[place * 3 + 2] ?? [];
    const last = column.findLastIndex((value) => value !== null);
    const value = column[last];
    const hour = plot.data[0][last];
    if (value === null || value === undefined || hour === undefined) return [];
    const x = plot.valToPos(hour, 'x', true) + 6 * scale;
    return [{ name, place, x, y: plot.valToPos(value, 'y', true) }];
  });
  const placed: { x: number; y: number }[] = [];
  for (const { name, place, x, y } of ends.sort((a, b) => a.y - b.y)) {
    const near = placed.filter((other) => Math.abs(other.x - x) < NAME_ROOM_PX * scale);
    const lowest = Math.max(Number.NEGATIVE_INFINITY, ...near.map((other) => other.y + NAME_STEP_PX * scale));
    const nameY = Math.max(y, lowest);
    placed.push({ x, y: nameY });
    writeOn(plot, name, x, nameY, sizeInk(place).line);
  }
}
