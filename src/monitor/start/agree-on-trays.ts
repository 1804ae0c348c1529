import type { FarmModel } from '../../drying/model/farm-model.js';
import type { WateringDesk } from '../../watering/desk/watering-desk.js';

/**
 * Makes the model know the trays that stand at the desk, and no others, with the probes that stand in them: the two are kept apart,
 * and after a crash or where one was built anew the model may be behind. It is never asked for a tray that it does not know.
 */
export function agreeOnTrays(model: FarmModel, desk: WateringDesk, nowMs: number): void {
  const trays = desk.trays();
  const standing = new Set(trays.map(({ id }) => id));
  const known = new Set(model.trayIds());
  for (const id of known) if (!standing.has(id)) model.endTray(id, nowMs);
  const missing = trays.filter(({ id }) => !known.has(id));
  for (const tray of missing) model.addTray(tray, nowMs);
  const added = new Set(missing.map(({ id }) => id));
  for (const [probeId, trayId] of desk.probeTrays())
    if (added.has(trayId)) model.attachProbe(probeId, trayId, nowMs);
}
