import { HORIZON_H } from '../forecaster.js';
import { fullTimeH, median, refillAfterH, usualDryTimeH } from './dry-times.js';
import { type FarmNotes, hourOfDay, type TrayNotes } from './farm-notes.js';

const HOUR_MS = 3_600_000;

/** A napkin rule: its middle forecast in hours, before widths. */
export type NapkinRule = (notes: FarmNotes, tray: TrayNotes, atMs: number) => number;

/** HABIT: a constant drying time per block size since the last watering. */
export const habit: NapkinRule = (notes, tray, atMs) =>
  Math.max(0, usualDryTimeH(notes, tray.blockSideMm) - (atMs - tray.wateredAtMs) / HOUR_MS);

/** LINE: a straight line through the last 6 h of the calibrated probe; HABIT where there is none. */
export const line: NapkinRule = (notes, tray, atMs) => {
  const window = tray.levels.slice(-7);
  if (tray.level === undefined || window.length < 4) return habit(notes, tray, atMs);
  const n = window.length;
  const meanX = (n - 1) / 2;
  const meanY = window.reduce((sum, y) => sum + y, 0) / n;
  let top = 0;
  let bottom = 0;
  window.forEach((y, x) => {
    top += (x - meanX) * (y - meanY);
    bottom += (x - meanX) ** 2;
  });
  const slope = top / bottom;
  const now = meanY + slope * (n - 1 - meanX);
  if (now <= tray.refill) return 0;
  return slope > -0.0003 ? HORIZON_H : Math.min(HORIZON_H, (now - tray.refill) / -slope);
};

/** k of one tray: fall per kPa h, median of its dry-downs; of its size, or scaled from other sizes, where it has none. */
function fittedK(notes: FarmNotes, tray: TrayNotes): number {
  const ks = (one: TrayNotes): number[] =>
    one.dryDowns.flatMap(({ levels, vpdKPaH }) => {
      const drop = (levels[0] ?? 0) - (levels[levels.length - 1] ?? 0);
      return drop > 0.03 && vpdKPaH > 0.5 ? [drop / vpdKPaH] : [];
    });
  const own = median(ks(tray));
  if (own !== undefined) return own;
  const all = [...notes.trays.values()];
  const same = median(all.filter((one) => one.blockSideMm === tray.blockSideMm).flatMap(ks));
  if (same !== undefined) return same;
  const scaled = all.flatMap((one) => ks(one).map((k) => k * (one.blockSideMm / tray.blockSideMm) ** 1.2));
  const practice = (0.28 / (24 * 0.6)) * (19 / tray.blockSideMm) ** 1.2;
  return median(scaled) ?? practice;
}

/** Level of a tray without a usable probe: full at the last watering (or what was poured), down by k VPD since. */
function reckonedLevel(notes: FarmNotes, tray: TrayNotes, k: number, atMs: number): number {
  const start =
    tray.pouredMl === undefined
      ? tray.capacity
      : Math.min(
          tray.capacity,
          tray.refill + 0.3 * (tray.capacity - tray.refill) + tray.pouredMl / tray.blocksMl,
        );
  return start - k * notes.vpd.sumKPaH(notes.bench(tray.id), tray.wateredAtMs, atMs);
}

/** VPD: rate = k VPD with k fitted per tray on its past dry-downs, and yesterday's VPD again. */
export const vpd: NapkinRule = (notes, tray, atMs) => {
  const k = fittedK(notes, tray);
  let level = tray.level ?? reckonedLevel(notes, tray, k, atMs);
  const bench = notes.bench(tray.id);
  for (let hours = 0; hours < HORIZON_H; hours++) {
    if (level <= tray.refill) return hours;
    const fall = k * (notes.vpd.kPa(bench, atMs + (hours + 0.5) * HOUR_MS) ?? 0.6);
    if (level - fall <= tray.refill) return hours + (level - tray.refill) / fall;
    level -= fall;
  }
  return HORIZON_H;
};

/** ANALOG: how long this tray's earlier dry-downs took from the present level; its size's, from full, without a probe. */
export const analog: NapkinRule = (notes, tray, atMs) => {
  const { level } = tray;
  if (level !== undefined && level <= tray.refill) return 0;
  if (level !== undefined) {
    const hours = tray.dryDowns.flatMap((dryDown) => {
      const from = dryDown.levels.findIndex((one) => one <= level);
      const to = refillAfterH(tray, dryDown);
      return from < 0 || to === undefined || (dryDown.levels[0] ?? 0) < level ? [] : [Math.max(0, to - from)];
    });
    const typical = median(hours);
    if (typical !== undefined) return Math.min(HORIZON_H, typical);
    const share = (level - tray.refill) / (tray.capacity - tray.refill);
    return Math.min(HORIZON_H, share * usualDryTimeH(notes, tray.blockSideMm));
  }
  const same = [...notes.trays.values()].filter((one) => one.blockSideMm === tray.blockSideMm);
  const last = same.flatMap((one) =>
    one.dryDowns.slice(-3).flatMap((dryDown) => fullTimeH(one, dryDown) ?? []),
  );
  const typical = median(last) ?? usualDryTimeH(notes, tray.blockSideMm);
  return Math.max(0, typical - (atMs - tray.wateredAtMs) / HOUR_MS);
};

/** HOUR: falls on as it usually fell at each hour of the day, by this tray's own probe; HABIT where there is none. */
export const hour: NapkinRule = (notes, tray, atMs) => {
  const { level, fallAtHour, visitsAtHour } = tray;
  const visits = visitsAtHour.reduce((sum, one) => sum + one, 0);
  if (level === undefined || visits === 0) return habit(notes, tray, atMs);
  const mean = fallAtHour.reduce((sum, one) => sum + one, 0) / visits;
  let left = level - tray.refill;
  for (let hours = 0; hours < HORIZON_H; hours++) {
    if (left <= 0) return hours;
    const at = hourOfDay(atMs + hours * HOUR_MS);
    // one visit's worth of the mean hour, so that an hour seen once does not stand for itself alone
    const fall = Math.max(0, ((fallAtHour[at] ?? 0) + mean) / ((visitsAtHour[at] ?? 0) + 1));
    if (fall > left) return hours + left / fall;
    left -= fall;
  }
  return HORIZON_H;
};
