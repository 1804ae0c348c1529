import { useLayoutEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';

export interface PlotProps {
  /** What a screen reader says in place of the picture; the table beside it holds the numbers. */
  readonly label: string;
  readonly data: uPlot.AlignedData;
  /** Everything but the size; made anew only when what is drawn changes its kind. */
  readonly options: Omit<uPlot.Options, 'width' | 'height'>;
  readonly heightPx: number;
}

/** A drawing by uPlot that keeps the width it is given. */
export function Plot({ label, data, options, heightPx }: PlotProps) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const element = place.current;
    if (element === null) return;
    const plot = new uPlot(
      { ...options, width: Math.max(1, element.clientWidth), height: heightPx },
      data,
      element,
    );
    const watcher = new ResizeObserver(() => {
      if (element.clientWidth > 0 && element.clientWidth !== plot.width)
        plot.setSize({ width: element.clientWidth, height: heightPx });
    });
    watcher.observe(element);
    return () => {
      watcher.disconnect();
      plot.destroy();
    };
  }, [data, options, heightPx]);
  return <div class="plot" role="img" aria-label={label} ref={place} />;
}

const FONT = '13px "Avenir Next", "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", sans-serif';
const INK = '#1c1510';
const GRID = 'rgb(28 21 16 / 14%)';

/** An axis in the page's ink. */
export function inkAxis(axis: uPlot.Axis): uPlot.Axis {
  return {
    stroke: INK,
    font: FONT,
    labelFont: `600 ${FONT}`,
    labelSize: 22,
    ticks: { stroke: INK, width: 1, size: 5 },
    grid: { stroke: GRID, width: 1 },
    ...axis,
  };
}

/** Writes a word on the drawing, dark on a pale ground, in canvas pixels. */
export function writeOn(plot: uPlot, words: string, x: number, y: number, ink: string): void {
  const { ctx } = plot;
  const scale = uPlot.pxRatio;
  ctx.save();
  ctx.font = `700 ${13 * scale}px ${FONT.slice(5)}`;
  ctx.textBaseline = 'middle';
  ctx.textAlign = 'left';
  const width = ctx.measureText(words).width;
  ctx.fillStyle = 'rgb(255 253 246 / 88%)';
  ctx.fillRect(x - 3 * scale, y - 9 * scale, width + 6 * scale, 18 * scale);
  ctx.fillStyle = ink;
  ctx.fillText(words, x, y);
  ctx.restore();
}
