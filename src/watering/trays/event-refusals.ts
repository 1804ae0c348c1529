import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Desk } from '../desk/desk.js';
import type { EventRefusal, RegisteredTray } from '../desk/tray-register.js';
import type { Said } from '../sentences/said/said.js';
import { noSuchTray } from './no-such.js';

/** Why an event can't follow on what is known of the tray, and what to do. */
export function eventRefusal(
  code: EventRefusal['code'],
  event: TrayEvent,
  tray: RegisteredTray | undefined,
  desk: Desk,
): Said {
  const toTray = event.event === 'potted-on' ? event.toTray : '';
  switch (code) {
    case 'unknown-tray':
      return noSuchTray(desk, event.tray);
    case 'tray-ended':
      return ['trayEnded', event.tray];
    case 'tray-exists':
      return ['trayExists', event.tray];
    case 'unknown-to-tray':
      return noSuchTray(desk, toTray, 'pot-on');
    case 'same-tray':
      return ['sameTray', event.tray];
    case 'smaller-block':
      return ['smallerBlock', toTray, event.tray, tray?.blockSideMm];
  }
}
