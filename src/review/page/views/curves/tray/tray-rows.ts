import { MS_PER_HOUR, S_PER_HOUR } from '../../../../../../shared/base/time-units.js';
import type { TrayCurveAnswer } from '../../../../../../shared/page/page-review.js';
import { numberWords } from '../../../texts/amounts/amounts.js';
import type { FarmClockWords } from '../../../texts/farm-clock.js';
import type { Texts } from '../../../texts/texts.js';

/** Steps of the table, hours; the first that keeps it at a hundred rows or so is taken. */
const STEPS_H = [1, 2, 3, 6, 12, 24, 48, 168];
const MOST_ROWS = 120;

interface Row {
  readonly atS: number;
  readonly cells: readonly [probe: string, model: string, happened: string];
}

const percent = (share: number | undefined): string =>
  share === undefined ? '' : numberWords(share * 100, 1);

/** Value of a column at the newest time not after `atS`, and not older than a step. */
function valueAt(
  times: readonly number[],
  values: readonly number[],
  atS: number,
  stepS: number,
): number | undefined {
  const place = times.findLastIndex((timeS) => timeS <= atS);
  const timeS = times[place];
  return timeS === undefined || atS - timeS > stepS ? undefined : values[place];
}

function stepHours(answer: TrayCurveAnswer): number {
  const hours = (Date.parse(answer.to) - Date.parse(answer.from)) / MS_PER_HOUR;
  return STEPS_H.find((step) => hours / step <= MOST_ROWS) ?? 168;
}

/** Between two rows: "6 h", "7 d". */
export function rowStep(answer: TrayCurveAnswer, texts: Texts): string {
  const hours = stepHours(answer);
  return hours < 24 ? `${hours} ${texts.hours.hoursShort}` : `${hours / 24} ${texts.hours.daysShort}`;
}

/** The curve as rows: readings and model at even steps, and between them what happened. */
export function trayRows(answer: TrayCurveAnswer, clock: FarmClockWords, texts: Texts): string[][] {
  const fromS = Date.parse(answer.from) / 1000;
  const toS = Date.parse(answer.to) / 1000;
  const stepH = stepHours(answer);
  const stepS = stepH * S_PER_HOUR;
  const { readings, forecasts } = answer;
  const even: Row[] = [];
  for (let atS = Math.ceil(fromS / stepS) * stepS; atS < toS; atS += stepS)
    even.push({
      atS,
      cells: [
        percent(valueAt(readings.atS, readings.mean, atS, stepS)),
        percent(valueAt(forecasts.atS, forecasts.waterContentM3PerM3, atS, stepS)),
        '',
      ],
    });
  const happened: Row[] = [
    ...answer.waterings.map((one) => ({ at: one.at, words: texts.review.tray.wateredWords })),
    ...answer.alarms.map((one) => ({
      at: one.at,
      words: texts.review.tray.callWords(texts.call.kinds[one.kind], texts.journal.states[one.state]),
    })),
  ].map(({ at, words }) => ({ atS: Date.parse(at) / 1000, cells: ['', '', words] as const }));
  const rows = [...even, ...happened].sort((a, b) => a.atS - b.atS);
  return rows.map((row) => [clock.full(row.atS * 1000), ...row.cells]);
}
