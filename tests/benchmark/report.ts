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
import type { TrayNoticeScores } from './score-notices.js';

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

type NoticesByName = ReadonlyMap<string, TrayNoticeScores>;

/** Announced and false trays by forecaster's name: by one policy for all, and by the desks of those who have one. */
export interface NoticeSums {
  readonly byPolicy: NoticesByName;
  readonly byDesk: NoticesByName;
}

const announcedShare = (one: TrayNoticeScores): number => one.announced / one.dryOuts;
const falsePerTrayWeek = (one: TrayNoticeScores): number => one.falseOnes / one.trayWeeks;

function noticeLines(scores: ScoresByName, notices: NoticesByName): string[][] {
  const of = (label: string, figure: (one: TrayNoticeScores) => string): string[] => [
    label,
    ...[...scores.keys()].map((name) => {
      const one = notices.get(name);
      return one === undefined ? '-' : figure(one);
    }),
  ];
  return [
    of('  dry-outs, an hour ahead', (one) => percent(announcedShare(one))),
    of('  falsely, per tray-week', (one) => number(falsePerTrayWeek(one))),
    of('  named, per tray-week', (one) => number((one.listings + one.alarms) / one.trayWeeks)),
  ];
}

/** The benchmark's one table: every forecaster side by side. */
export function reportTable(scores: ScoresByName, { byPolicy, byDesk }: NoticeSums): string {
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
    ['announced by one policy on each forecast', ...[...scores.keys()].map(() => '')],
    ...noticeLines(scores, byPolicy),
    ["announced by the house's own desk", ...[...scores.keys()].map(() => '')],
    ...noticeLines(scores, byDesk),
    ['mean pinball by scenario, h', ...[...scores.keys()].map(() => '')],
    ...kinds.map((kind) =>
      line(scores, `  ${kind}`, (rows) => rows.filter((row) => row.kind === kind), pinballFigure),
    ),
  ];
  return table(rows);
}

/** How the model stands against the targets that design and issue set; one line each, met or not. */
export function targetLines(scores: ScoresByName, { byDesk }: NoticeSums, modelName: string): string[] {
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
    ...widthLines(model),
    ...noticeVerdicts(byDesk.get(modelName)),
    `${lostKinds.length === 0 ? 'met   ' : 'missed'}  ahead of all four in every scenario${lostKinds.length === 0 ? '' : `, not in: ${lostKinds.join(', ')}`}`,
  ];
}

/** Width: overall, and in every band and block size; those outside their target are named. */
function widthLines(model: readonly ScoredForecast[]): string[] {
  const sizes = [...new Set(model.map(({ blockSideMm }) => blockSideMm))].sort((a, b) => a - b);
  const parts: [string, readonly ScoredForecast[]][] = [
    ['', model],
    ...BANDS.map((band): [string, readonly ScoredForecast[]] => [
      `, p50 ${band[0]}-${band[1]} h`,
      inBand(model, band),
    ]),
    ...sizes.map((side): [string, readonly ScoredForecast[]] => [
      `, ${side} mm`,
      model.filter(({ blockSideMm }) => blockSideMm === side),
    ]),
  ];
  return parts.map(([label, rows]) => {
    const share = coverage(rows);
    const met = share >= 0.75 && share <= 0.85;
    return `${met ? 'met   ' : 'missed'}  inside p10-p90${label}: ${percent(share)}, target 75 to 85 %`;
  });
}

function noticeVerdicts(own: TrayNoticeScores | undefined): string[] {
  if (own === undefined || own.dryOuts === 0) return [];
  const [share, wrong] = [announcedShare(own), falsePerTrayWeek(own)];
  return [
    `${share >= 0.97 ? 'met   ' : 'missed'}  dry-outs announced: ${(100 * share).toFixed(1)} % of ${own.dryOuts}, target at least 97 %`,
    `${wrong < 1 ? 'met   ' : 'missed'}  falsely announced: ${wrong.toFixed(2)} per tray-week, target under 1, then under 0.5`,
  ];
}
