import type { LocalClock } from '../../cells/local-clock.js';
import { zoneHint } from '../../cells/zone-hint.js';
import type { Table } from '../find-table.js';
import type { FileTimes, TimeOptions } from './file-times.js';

/** Zones in the file's own words: the time's header and unit first, then the lines above. */
export function zoneOf(
  table: Table,
  columns: readonly number[],
  options: TimeOptions,
): Pick<FileTimes, 'zone' | 'zoneFrom'> {
  if (options.zone !== undefined) return { zone: options.zone, zoneFrom: 'you' };
  const head = columns.map((index) => `${table.names[index] ?? ''} ${table.units[index] ?? ''}`).join(' ');
  const hint = zoneHint(head) ?? zoneHint(table.above);
  if (hint !== undefined) return { zone: hint, zoneFrom: 'the file' };
  return { zone: options.machineZone, zoneFrom: 'this machine' };
}

/** The newest row stands first. */
export function runsBackwards(times: readonly (number | undefined)[]): boolean {
  let [up, down] = [0, 0];
  let before: number | undefined;
  for (const at of times) {
    if (at === undefined) continue;
    if (before !== undefined && at > before) up += 1;
    if (before !== undefined && at < before) down += 1;
    before = at;
  }
  return down > up;
}

/** Local clock readings to instants, in the order of time so that a repeated hour is told apart. */
export function toInstants(
  locals: readonly (number | undefined)[],
  clock: LocalClock,
  newestFirst: boolean,
): (number | undefined)[] {
  const atMs: (number | undefined)[] = new Array(locals.length).fill(undefined);
  let afterMs = Number.NEGATIVE_INFINITY;
  let sameLocal: number | undefined;
  let sameMs = 0;
  for (let i = 0; i < locals.length; i++) {
    const index = newestFirst ? locals.length - 1 - i : i;
    const local = locals[index];
    if (local === undefined) continue;
    // Several rows of one time (one for each probe) are one instant.
    const at = local === sameLocal ? sameMs : clock.instantMs(local, afterMs);
    if (at === undefined) continue;
    atMs[index] = at;
    [sameLocal, sameMs] = [local, at];
    afterMs = at;
  }
  return atMs;
}
