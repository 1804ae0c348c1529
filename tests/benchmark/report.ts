import { table } from '../bench/measurement.js';
import {
  BANDS,
  coverage,
  inBand,
  meanPinballH,
  medianRelativeBias,
  medianRelativeError,
  type ScoredForecast,
} from './score.js';

const number = (value: number, digits = 2): string => (Number.isFinite(value) ? value.toFixed(digits) : '-');
const percent = (value: number): string => (Number.isFinite(value) ? `${(100 * value).toFixed(0)} %` : '-');

/** Scored forecasts by forecaster's name, in the order of the columns. */
export type ScoresByName = ReadonlyMap<string, readonly ScoredForecast[]>;

function line(
  scores: ScoresByName,
  label: string,
  pick: (rows: readonly ScoredForecast[]) => readonly ScoredForecast[],
  figure: (rows: readonly ScoredForecast[]) => string,
): string[] {
  const cells = [...scores.values()].map((rows) => {
    const picked = pick(rows);
    return picked.length === 0 ? '-' : figure(picked);
  });
  return [label, ...cells];
}

const all = (rows: readonly ScoredForecast[]): readonly ScoredForecast[] => rows;
const pinballFigure = (rows: readonly ScoredForecast[]): string => number(meanPinballH(rows));
const coverageFigure = (rows: readonly ScoredForecast[]): string => percent(coverage(rows));

/** The benchmark's one table: every forecaster side by side. */
export function reportTable(scores: ScoresByName): string {
  const first = [...scores.values()][0] ?? [];
  const kinds = [...new Set(first.map(({ kind }) => kind))];
  const sizes = [...new Set(first.map(({ blockSideMm }) => blockSideMm))].sort((a, b) => a - b);
  const rows: string[][] = [
    ['', ...scores.keys()],
    line(scores, 'forecasts scored', all, (rows) => String(rows.length)),
    line(scores, 'mean pinball, h', all, pinballFigure),
    line(scores, '  probed trays', (rows) => rows.filter(({ probed }) => probed), pinballFigure),
    line(scores, '  trays without a probe', (rows) => rows.filter(({ probed }) => !probed), pinballFigure),
    line(
      scores,
      '    once their bench has seen 3 dry-downs',
      (rows) => rows.filter(({ probed, benchDryDowns }) => !probed && benchDryDowns >= 3),
      pinballFigure,
    ),
    line(scores, 'median relative error of p50', all, (rows) => percent(medianRelativeError(rows))),
    line(scores, 'median relative bias of p50', all, (rows) => percent(medianRelativeBias(rows))),
    line(scores, 'inside p10-p90', all, coverageFigure),
    ...BANDS.map((band) =>
      line(scores, `  p50 ${band[0]}-${band[1]} h`, (rows) => inBand(rows, band), coverageFigure),
    ),
    ...sizes.map((side) =>
      line(
        scores,
        `  ${side} mm blocks`,
        (rows) => rows.filter(({ blockSideMm }) => blockSideMm === side),
        coverageFigure,
      ),
    ),
    ['mean pinball by scenario, h', ...[...scores.keys()].map(() => '')],
    ...kinds.map((kind) =>
      line(scores, `  ${kind}`, (rows) => rows.filter((row) => row.kind === kind), pinballFigure),
    ),
  ];
  return table(rows);
}

/** How the model stands against the targets that design and issue set; one line each, met or not. */
export function targetLines(scores: ScoresByName, modelName: string): string[] {
  const model = scores.get(modelName) ?? [];
  const against = (
    name: string,
    pick: (rows: readonly ScoredForecast[]) => readonly ScoredForecast[],
  ): number => meanPinballH(pick(model)) / meanPinballH(pick(scores.get(name) ?? []));
  const unprobed = (rows: readonly ScoredForecast[]): readonly ScoredForecast[] =>
    rows.filter(({ probed, benchDryDowns }) => !probed && benchDryDowns >= 3);
  const yardsticks = ['HABIT', 'LINE', 'VPD', 'ANALOG'].filter((name) => scores.has(name));
  const kinds = [...new Set(model.map(({ kind }) => kind))];
  const lostKinds = kinds.filter((kind) => {
    const ofKind = (rows: readonly ScoredForecast[]): ScoredForecast[] =>
      rows.filter((row) => row.kind === kind);
    const own = meanPinballH(ofKind(model));
    return yardsticks.some((name) => meanPinballH(ofKind(scores.get(name) ?? [])) <= own);
  });
  const verdict = (label: string, value: number, limit: number): string =>
    `${value <= limit ? 'met   ' : 'missed'}  ${label}: ${value.toFixed(2)}, target at most ${limit}`;
  return [
    verdict('pinball against VPD', against('VPD', all), 0.58),
    verdict('pinball against HABIT', against('HABIT', all), 0.46),
    verdict('pinball against VPD, trays without a probe', against('VPD', unprobed), 0.6),
    verdict('median relative error of p50', medianRelativeError(model), 0.25),
    ...(scores.has('true weather')
      ? [
          verdict(
            'median relative error of p50, true weather handed in',
            medianRelativeError(scores.get('true weather') ?? []),
            0.1,
          ),
        ]
      : []),
    ...[coverage(model)].map(
      (share) =>
        `${share >= 0.75 && share <= 0.85 ? 'met   ' : 'missed'}  inside p10-p90: ${(100 * share).toFixed(0)} %, target 75 to 85 %`,
    ),
    `${lostKinds.length === 0 ? 'met   ' : 'missed'}  ahead of all four in every scenario${lostKinds.length === 0 ? '' : `, not in: ${lostKinds.join(', ')}`}`,
  ];
}
