import type { FarmNotes, NotedDryDown, TrayNotes } from './farm-notes.js';

const HOUR_MS = 3_600_000;
/** About a day for a mini, longer by size (common practice). */
const MINI_H = 24;
const SIZE_POWER = 1.2;
/** Growers water before a tray is dry: an interval between waterings is about this share of a dry-down. */
const INTERVAL_SHARE = 0.8;
const SMALLEST_DROP = 0.04;

export function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}

/** Hours from full to refill by this dry-down's mean rate; undefined when it hardly fell. */
export function fullTimeH(tray: TrayNotes, { levels, startMs, endMs }: NotedDryDown): number | undefined {
  const drop = (levels[0] ?? 0) - (levels[levels.length - 1] ?? 0);
  if (drop < SMALLEST_DROP) return undefined;
  return (((tray.capacity - tray.refill) / drop) * (endMs - startMs)) / HOUR_MS;
}

/** When the refill point came, or would have come at the pace of its last hours; hours from the dry-down's start. */
export function refillAfterH(tray: TrayNotes, { levels }: NotedDryDown): number | undefined {
  const crossed = levels.findIndex((level) => level <= tray.refill);
  if (crossed >= 0) return crossed;
  const last = levels[levels.length - 1] ?? 0;
  const from = levels[Math.max(0, levels.length - 25)] ?? 0;
  const rate = (from - last) / Math.min(24, levels.length - 1);
  return rate < 0.0008 ? undefined : levels.length - 1 + (last - tray.refill) / rate;
}

/** Usual hours from full to refill for a block size: what probes of that size showed, else intervals, else practice. */
export function usualDryTimeH(notes: FarmNotes, blockSideMm: number): number {
  const same = [...notes.trays.values()].filter((tray) => tray.blockSideMm === blockSideMm);
  const seen = same.flatMap((tray) => tray.dryDowns.flatMap((one) => fullTimeH(tray, one) ?? []));
  const practice = MINI_H * (blockSideMm / 19) ** SIZE_POWER;
  if (seen.length > 0) return median([...seen, practice]) ?? practice;
  const intervals = same.flatMap((tray) => tray.intervalsH.map((hours) => hours / INTERVAL_SHARE));
  return median([...intervals, practice]) ?? practice;
}
