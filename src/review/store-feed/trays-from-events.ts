import type { TrayEvent } from '../../../shared/tray-life.js';
import type { TrayNow } from '../../watering/watering-desk.js';

/** The trays on the benches and where their probes are, as the kept events tell: a page without a watchman has only those. */
export interface TraysFromEvents {
  readonly trays: readonly TrayNow[];
  readonly probeTrays: ReadonlyMap<string, string>;
}

/** Plays standing tray events, sorted by time. `firstProbes`: where the configuration put them. */
export function traysFromEvents(
  events: readonly TrayEvent[],
  firstProbes: ReadonlyMap<string, string>,
): TraysFromEvents {
  const trays = new Map<string, TrayNow>();
  const probeTrays = new Map(firstProbes);
  for (const event of events) {
    const atMs = Date.parse(event.at);
    const tray = trays.get(event.tray);
    if (event.event === 'new') {
      trays.set(event.tray, {
        id: event.tray,
        benchId: event.bench,
        blockSideMm: event.blockSideMm,
        blockCount: event.blockCount,
        crop: event.crop,
        medium: event.medium,
        containerCapacityM3PerM3: event.containerCapacityM3PerM3,
        refillPointM3PerM3: event.refillPointM3PerM3,
        trayAreaM2: event.trayAreaM2,
        channelDepthMm: event.channelDepthMm,
        cover: event.cover ?? 'none',
        sownAtMs: event.sownAt === undefined ? undefined : Date.parse(event.sownAt),
        germinatedAtMs: event.germinatedAt === undefined ? undefined : Date.parse(event.germinatedAt),
        startedAtMs: atMs,
        hasProbe: false,
      });
      continue;
    }
    if (tray === undefined) continue;
    if (event.event === 'ended' || event.event === 'potted-on') trays.delete(event.tray);
    else if (event.event === 'attached') probeTrays.set(event.probe, event.tray);
    else trays.set(event.tray, { ...tray, ...changeOf(event, atMs) });
  }
  const probed = new Set(probeTrays.values());
  return {
    trays: [...trays.values()].map((tray) => ({ ...tray, hasProbe: probed.has(tray.id) })),
    probeTrays,
  };
}

function changeOf(event: TrayEvent, atMs: number): Partial<TrayNow> {
  switch (event.event) {
    case 'sown':
      return { sownAtMs: atMs };
    case 'germinated':
      return { germinatedAtMs: atMs };
    case 'covered':
      return { cover: event.cover ?? 'loose-dome', coveredAtMs: atMs };
    case 'uncovered':
      return { cover: 'none', coveredAtMs: undefined };
    case 'moved':
      return { benchId: event.bench };
    default:
      return {};
  }
}
