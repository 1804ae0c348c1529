import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { FarmModel, TraySpec } from '../../../drying/model/farm-model.js';

function instant(text: string | undefined): number | undefined {
  return text === undefined ? undefined : Date.parse(text);
}

/** A `new` event as the model's tray. */
export function traySpecOf(event: Extract<TrayEvent, { event: 'new' }>): TraySpec {
  return {
    id: event.tray,
    benchId: event.bench,
    blockSideMm: event.blockSideMm,
    blockCount: event.blockCount,
    containerCapacityM3PerM3: event.containerCapacityM3PerM3,
    refillPointM3PerM3: event.refillPointM3PerM3,
    trayAreaM2: event.trayAreaM2,
    cover: event.cover ?? 'none',
    sownAtMs: instant(event.sownAt),
    germinatedAtMs: instant(event.germinatedAt),
  };
}

/**
 * Tells the model what happened to a tray. A pour is told by the watering that came of it, not here. Blocks that
 * seedlings were potted on into are pressed wet, so that tray starts full; the old tray is at its end.
 */
export function tellModel(model: FarmModel, event: TrayEvent, atMs: number): void {
  switch (event.event) {
    case 'new':
      return model.addTray(traySpecOf(event), atMs);
    case 'sown':
      return model.setSown(event.tray, atMs);
    case 'germinated':
      return model.setGerminated(event.tray, atMs);
    case 'covered':
      return model.setCover(event.tray, event.cover ?? 'loose-dome', atMs);
    case 'uncovered':
      return model.setCover(event.tray, 'none', atMs);
    case 'moved':
      return model.moveTray(event.tray, event.bench, atMs);
    case 'potted-on':
      model.recordWatering(event.toTray, atMs, undefined);
      model.setGerminated(event.toTray, atMs);
      return model.endTray(event.tray, atMs);
    case 'weighed':
      return model.recordWeight(event.tray, event.grams, atMs);
    case 'looked':
      return model.recordLook(event.tray, event.level, atMs);
    case 'ready-for-water':
      return model.recordReady(event.tray, atMs);
    case 'attached':
      return model.attachProbe(event.probe, event.tray, atMs);
    case 'ended':
      return model.endTray(event.tray, atMs);
    case 'watered':
      return;
  }
}
