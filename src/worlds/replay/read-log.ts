import { toInstant } from '../../../shared/base/ids.js';
import { type TrayEvent, trayEventSchema } from '../../../shared/facts/tray-life.js';
import { parseInstantMs } from '../../monitor/time/instant.js';
import { type RejectedRow, readCsvTable } from './csv-table.js';

/** One row of the grower's log. */
export interface LoggedEvent {
  readonly atMs: number;
  readonly event: TrayEvent;
  readonly row: number;
}

const loggedEvents = new Set([
  'sown',
  'germinated',
  'covered',
  'uncovered',
  'watered',
  'moved',
  'potted-on',
  'weighed',
  'looked',
  'ready-for-water',
  'ended',
]);
const eventList = [...loggedEvents].join(', ');

interface LogCells {
  readonly ml: string;
  readonly bench: string;
  readonly toTray: string;
  readonly grams: string;
  readonly level: string;
}

/** Only the cells that belong to the event are taken; the others may be empty or hold what the grower liked. */
function eventFields(event: string, cells: LogCells): Record<string, string | number> {
  switch (event) {
    case 'watered':
      return cells.ml === '' ? {} : { ml: Number(cells.ml) };
    case 'moved':
      return { bench: cells.bench };
    case 'potted-on':
      return { toTray: cells.toTray };
    case 'weighed':
      return { grams: Number(cells.grams) };
    case 'looked':
      return { level: Number(cells.level) };
    default:
      return {};
  }
}

/**
 * Reads the grower's log `time,tray,event[,ml,bench,toTray,grams,level]`, sorted by time (stable). Rows that can't be
 * used are reported and left out. Throws RecordingError when the file or its header can't be used.
 */
export async function readLog(
  file: string,
  known: { readonly trays: ReadonlySet<string>; readonly benches: ReadonlySet<string> },
  onReject: (row: RejectedRow) => void,
): Promise<readonly LoggedEvent[]> {
  const rows: LoggedEvent[] = [];
  const seen = new Map<string, number>();
  await readCsvTable(
    file,
    { required: ['time', 'tray', 'event'], optional: ['ml', 'bench', 'toTray', 'grams', 'level'] },
    ([time = '', tray = '', event = '', ml = '', bench = '', toTray = '', grams = '', level = ''], row) => {
      const atMs = parseInstantMs(time);
      if (atMs === undefined) return `time "${time}" is not RFC 3339 (2026-04-18T07:00:00Z)`;
      if (!loggedEvents.has(event)) return `event "${event}" is unknown; events are: ${eventList}`;
      if (!known.trays.has(tray)) return `tray "${tray}" is not in the configuration`;
      if (event === 'moved' && !known.benches.has(bench))
        return `bench "${bench}" is not in the configuration`;
      if (event === 'potted-on' && !known.trays.has(toTray))
        return `toTray "${toTray}" is not in the configuration`;
      const parsed = trayEventSchema.safeParse({
        at: toInstant(atMs),
        tray,
        event,
        ...eventFields(event, { ml, bench, toTray, grams, level }),
      });
      if (!parsed.success) {
        const issue = parsed.error.issues[0];
        return `${event}: ${issue?.path.join('.') ?? ''}: ${issue?.message ?? 'not usable'}`;
      }
      const key = JSON.stringify(parsed.data);
      const before = seen.get(key);
      if (before !== undefined) return `says the same as row ${before}; it counts once`;
      seen.set(key, row);
      rows.push({ atMs, event: parsed.data, row });
      return undefined;
    },
    onReject,
  );
  return rows.sort((a, b) => a.atMs - b.atMs || a.row - b.row);
}
