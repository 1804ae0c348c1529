import { table } from '../../bench/measurement.js';

/** How the forecasts of one ground did; shares 0 to 1, pinball in hours. What a ground's scorer does not tell is absent. */
export interface GroundRow {
  readonly ground: string;
  readonly forecasts: number;
  readonly pinballH: number;
  /** Mean pinball of each rule on the same rows, h. */
  readonly ruleH: Readonly<Record<string, number | undefined>>;
  readonly inside?: number | undefined;
  readonly medianError?: number | undefined;
  readonly medianBias?: number | undefined;
  readonly caught?: number | undefined;
  readonly falsePerTrayWeek?: number | undefined;
}

/** The rules that the house is held to on every ground. */
export const GROUND_RULES = ['HABIT', 'LINE', 'VPD', 'ANALOG', 'HOUR'] as const;
const number = (value: number | undefined): string =>
  value === undefined || !Number.isFinite(value) ? '-' : value.toFixed(2);
const percent = (value: number | undefined): string =>
  value === undefined || !Number.isFinite(value) ? '-' : `${(100 * value).toFixed(0)} %`;

/** The grounds side by side: pinball as a share of each rule's (below 1 is better), then honesty and error. */
export function groundsTable(rows: readonly GroundRow[]): string {
  return table([
    [
      '',
      'n',
      'pinball, h',
      ...GROUND_RULES.map((rule) => `x ${rule}`),
      'inside',
      'median error',
      'bias',
      'caught',
      'false/tray-week',
    ],
    ...rows.map((row) => [
      row.ground,
      String(row.forecasts),
      number(row.pinballH),
      ...GROUND_RULES.map((rule) => {
        const loss = row.ruleH[rule];
        return number(loss === undefined ? undefined : row.pinballH / loss);
      }),
      percent(row.inside),
      percent(row.medianError),
      percent(row.medianBias),
      percent(row.caught),
      number(row.falsePerTrayWeek),
    ]),
  ]);
}
