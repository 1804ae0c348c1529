import { toInstant } from '../../../shared/base/ids.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';

/** The configuration's trays as the events a farm starts with, at `startMs`; probes come attached by configuration. */
export function startEvents(config: FarmConfig, startMs: number): readonly TrayEvent[] {
  return config.trays.map(({ id, ...fields }) => ({
    at: toInstant(startMs),
    tray: id,
    event: 'new',
    ...fields,
  }));
}
