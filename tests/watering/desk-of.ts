import { toInstant } from '../../shared/base/ids.js';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import type { Command } from '../../shared/wire/command.js';
import { createWateringDesk } from '../../src/watering/create-watering-desk.js';
import type { WateringDesk } from '../../src/watering/desk/watering-desk.js';
import { farm, MIDNIGHT, view } from './helpers.js';

/** A tray as it is put on the bench in these tests. */
export interface Put {
  readonly id: string;
  readonly bench?: string;
  readonly blockSideMm?: number;
  readonly more?: Partial<Extract<TrayEvent, { event: 'new' }>>;
}

export const minis = (...ids: readonly string[]): readonly Put[] => ids.map((id) => ({ id }));

/** A desk with these trays since midnight. */
export function deskOf(trays: readonly Put[], overrides: Record<string, unknown> = {}): WateringDesk {
  const desk = createWateringDesk(farm(overrides));
  for (const { id, bench = 'south', blockSideMm = 19, more } of trays)
    desk.trayEvent(
      {
        event: 'new',
        at: toInstant(MIDNIGHT),
        tray: id,
        bench,
        blockSideMm,
        blockCount: blockSideMm < 30 ? 280 : blockSideMm < 45 ? 72 : 48,
        crop: 'celery',
        ...more,
      },
      view(MIDNIGHT),
    );
  return desk;
}

let refs = 0;

/** Tells the desk something at this moment. */
export function tell(desk: WateringDesk, command: Command, now: ReturnType<typeof view>) {
  refs += 1;
  return desk.command(command, command.ref ?? `c${refs}`, now);
}
