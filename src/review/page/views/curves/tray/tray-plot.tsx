import { useMemo } from 'preact/hooks';
import uPlot from 'uplot';
import { S_PER_HOUR } from '../../../../../../shared/base/time-units.js';
import type { TrayCurveAnswer } from '../../../../../../shared/page/page-review.js';
import { inkAxis, Plot } from '../../../draw/plot.js';
import { timeTicks } from '../../../draw/time-ticks.js';
import type { Texts } from '../../../texts/texts.js';
import { drawFan, drawLevels, drawMarks } from './tray-marks.js';

interface TrayPlotProps {
  readonly answer: TrayCurveAnswer;
  /** Place of the forecast whose fan is drawn. */
  readonly fan: number;
  readonly timeZone: string;
  readonly label: string;
  readonly texts: Texts;
}

type Column = (number | null)[];
/** A fan never makes the picture longer than this share of the span. */
const FAN_SHARE = 0.6;

/** Column of a series at other times: its own value where it has one, null elsewhere. */
function alignTo(
  times: readonly number[],
  own: readonly number[],
  values: readonly (number | null)[],
): Column {
  const byTime = new Map(own.map((atS, place) => [atS, values[place] ?? null]));
  return times.map((atS) => byTime.get(atS) ?? null);
}

/** Where readings pause for longer than this many usual steps the line is broken. */
const PAUSE_STEPS = 4;

/** Times at which a null breaks the line of a column that pauses. */
function breaks(times: readonly number[]): number[] {
  if (times.length < 3) return [];
  const steps = times.slice(1).map((atS, place) => atS - (times[place] ?? atS));
  const usual = [...steps].sort((a, b) => a - b)[Math.floor(steps.length / 2)] ?? 0;
  return steps.flatMap((step, place) => (step > usual * PAUSE_STEPS ? [(times[place] ?? 0) + usual] : []));
}

/** One tray's curve. */
export function TrayPlot({ answer, fan, timeZone, label, texts }: TrayPlotProps) {
  const data = useMemo((): uPlot.AlignedData => {
    const { readings, forecasts } = answer;
    const pauses = breaks(readings.atS);
    const poured = answer.waterings.map((watering) => Date.parse(watering.at) / 1000);
    const times = [...new Set([...readings.atS, ...pauses, ...forecasts.atS, ...poured])].sort(
      (a, b) => a - b,
    );
    const percent = (values: readonly number[]) => values.map((value) => value * 100);
    const believed = (values: readonly number[]): (number | null)[] =>
      percent(values).map((value, place) => (readings.flagged[place] === true ? null : value));
    // uPlot breaks a line at null and passes over undefined: pauses and doubted stretches break it, other times do not.
    const read = new Set([...readings.atS, ...pauses]);
    const column = (values: readonly (number | null)[]) =>
      alignTo(times, readings.atS, values).map((value, place) =>
        value === null && !read.has(times[place] ?? -1) ? undefined : value,
      );
    const doubted = percent(readings.mean).map((value, place) =>
      readings.flagged[place] === true ? value : null,
    );
    const jumps = new Set(poured);
    const model = alignTo(times, forecasts.atS, percent(forecasts.waterContentM3PerM3)).map((value, place) =>
      value === null && !jumps.has(times[place] ?? -1) ? undefined : value,
    );
    return [
      times,
      column(believed(readings.max)),
      column(believed(readings.min)),
      column(believed(readings.mean)),
      alignTo(times, readings.atS, doubted),
      model,
    ];
  }, [answer]);
  const options = useMemo((): Omit<uPlot.Options, 'width' | 'height'> => {
    const fromS = Date.parse(answer.from) / 1000;
    const toS = Date.parse(answer.to) / 1000;
    const madeS = answer.forecasts.atS[fan] ?? toS;
    const lateH = answer.forecasts.p90H[fan] ?? 120;
    const endS = Math.min(Math.max(toS, madeS + lateH * S_PER_HOUR), toS + (toS - fromS) * FAN_SHARE);
    const full = answer.containerCapacityM3PerM3 ?? 0.6;
    const refill = answer.refillPointM3PerM3 ?? 0.3;
    return {
      tzDate: (atS) => uPlot.tzDate(new Date(atS * 1000), timeZone),
      scales: {
        x: { range: () => [fromS, endS] },
        y: {
          range: (_plot, low, high) => [
            Math.max(0, Math.min(low ?? 100, refill * 100) - 5),
            Math.max(high ?? 0, full * 100) + 7,
          ],
        },
      },
      legend: { show: false },
      cursor: { show: false },
      axes: [
        inkAxis({ values: timeTicks(timeZone, texts.locale) }),
        inkAxis({ label: texts.review.curves.waterAxis, size: 40 }),
      ],
      series: [
        {},
        { width: 0, points: { show: false } },
        { width: 0, points: { show: false } },
        { stroke: '#6b3f1d', width: 2, points: { show: false } },
        { stroke: '#96180b', width: 0, points: { show: true, size: 4, fill: '#96180b', width: 0 } },
        { stroke: '#1c1510', width: 2, dash: [3, 4], points: { show: false } },
      ],
      bands: [{ series: [1, 2], fill: 'rgb(150 100 50 / 32%)' }],
      hooks: {
        drawClear: [(plot) => drawFan(plot, answer, fan)],
        draw: [(plot) => drawLevels(plot, answer, texts.review.tray), (plot) => drawMarks(plot, answer)],
      },
    };
  }, [answer, fan, timeZone, texts]);
  return <Plot label={label} data={data} options={options} heightPx={360} />;
}
