/** What a change of a constant may move, on one small farm. */
export interface ShortScores {
  readonly pinballH: number;
  readonly insideShare: number;
  readonly missed: number;
  readonly falseOnes: number;
  readonly listings: number;
  readonly alarms: number;
}

/** What a grower would hardly feel (judgement): relative, points of a share, and how many announcements more or fewer. */
const UNFELT = { pinball: 0.01, inside: 0.02, missed: 0, falseOnes: 1, listings: 2, alarms: 3 } as const;

/** True when what came of it is better or worse than anybody would overlook, on any of the farms. */
export function isNoticed(before: readonly ShortScores[], after: readonly ShortScores[]): boolean {
  return before.some((was, farm) => {
    const is = after[farm];
    if (is === undefined) return true;
    return (
      Math.abs(is.pinballH / was.pinballH - 1) > UNFELT.pinball ||
      Math.abs(is.insideShare - was.insideShare) > UNFELT.inside ||
      Math.abs(is.missed - was.missed) > UNFELT.missed ||
      Math.abs(is.falseOnes - was.falseOnes) > UNFELT.falseOnes ||
      Math.abs(is.listings - was.listings) > UNFELT.listings ||
      Math.abs(is.alarms - was.alarms) > UNFELT.alarms
    );
  });
}

/** How little it moved: "no difference", or the change of the forecasts' loss on each farm. */
export function said(before: readonly ShortScores[], after: readonly ShortScores[]): string {
  if (JSON.stringify(before) === JSON.stringify(after)) return 'no difference';
  const percents = before.map((was, farm) => {
    const change = 100 * ((after[farm]?.pinballH ?? Number.NaN) / was.pinballH - 1);
    return `${change >= 0 ? '+' : ''}${change.toFixed(2)} %`;
  });
  return `pinball ${percents.join(', ')}`;
}
