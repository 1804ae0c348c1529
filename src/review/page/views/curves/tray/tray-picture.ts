import type { TrayCurveAnswer } from '../../../../../../shared/page/page-review.js';
import { evenTicks, hourTicks } from '../../../draw/even-ticks.js';
import type { PictureSpec, Point } from '../../../draw/picture.js';
import { numberWords } from '../../../texts/amounts/amounts.js';
import type { FarmClockWords } from '../../../texts/farm-clock.js';
import type { Texts } from '../../../texts/texts.js';

const HOUR_S = 3600;
const MOST_TICKS = 8;
const MARGIN_PCT = 3;
/** Beyond this many hours the ticks are days. */
const DAYS_FROM_H = 48;
const INKS = { probe: '#6b3f1d', model: '#1c1510', full: '#0a4a70', refill: '#96180b' } as const;

/** One tray's curve as a drawing that can be kept; undefined where nothing is known of this time. */
export function trayPicture(
  { from, to, tray, readings, forecasts, waterings, alarms, ...levels }: TrayCurveAnswer,
  clock: FarmClockWords,
  texts: Texts,
): PictureSpec | undefined {
  const words = texts.review.tray;
  const fromS = Date.parse(from) / 1000;
  const course = (atS: readonly number[], water: readonly number[]): Point[] =>
    atS.map((at, place): Point => [(at - fromS) / HOUR_S, (water[place] ?? 0) * 100]);
  const believed = readings.atS.flatMap((at, place) =>
    readings.flagged[place] === true ? [] : [{ at, place }],
  );
  const probe = course(
    believed.map(({ at }) => at),
    believed.map(({ place }) => readings.mean[place] ?? 0),
  );
  const model = course(forecasts.atS, forecasts.waterContentM3PerM3);
  if (probe.length + model.length === 0) return undefined;
  const across = [
    { value: levels.containerCapacityM3PerM3, name: words.full, ink: INKS.full },
    { value: levels.refillPointM3PerM3, name: words.refill, ink: INKS.refill },
  ].flatMap(({ value, name, ink }) => (value === undefined ? [] : [{ at: value * 100, name, ink }]));
  const values = [...probe, ...model].map(([, y]) => y).concat(across.map(({ at }) => at));
  const y = { from: Math.max(0, Math.min(...values) - MARGIN_PCT), to: Math.max(...values) + MARGIN_PCT };
  const lastH = (Date.parse(to) / 1000 - fromS) / HOUR_S;
  const tickWords = (hours: number): string => {
    const atMs = (fromS + hours * HOUR_S) * 1000;
    return lastH > DAYS_FROM_H ? clock.shortDay(atMs) : clock.timeOfDay(atMs);
  };
  const calls = alarms.filter(({ state }) => state === 'unacknowledged').length;
  return {
    label: words.plotLabel(tray, waterings.length, calls),
    x: {
      from: 0,
      to: lastH,
      label: words.title(tray),
      ticks: hourTicks(0, lastH, MOST_TICKS).map((at) => ({ at, words: tickWords(at) })),
    },
    y: {
      ...y,
      label: texts.review.curves.waterAxis,
      ticks: evenTicks(y.from, y.to, MOST_TICKS).map((at) => ({ at, words: numberWords(at, 0) })),
    },
    lines: [
      { points: probe, ink: INKS.probe, width: 2, name: words.probe },
      { points: model, ink: INKS.model, width: 2, dash: [3, 4], name: words.model },
    ],
    levels: across,
  };
}
