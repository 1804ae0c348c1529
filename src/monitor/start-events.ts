import type { FarmConfig } from '../../shared/config/farm.js';
import { toInstant } from '../../shared/ids.js';
import type { TrayEvent } from '../../shared/tray-life.js';

/** The configuration's trays as the events a farm starts with, at `startMs`; probes come attached by configuration. */
export function startEvents(config: FarmConfig, startMs: number): readonly TrayEvent[] {
  return config.trays.map(({ id, ...fields }) => ({
    at: toInstant(startMs),
    tray: id,
    event: 'new',
    ...fields,
  }));
}
