import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Desk } from '../desk/desk.js';
import type { EventRefusal, RegisteredTray } from '../desk/tray-register.js';
import { noSuchTray } from './no-such.js';

/** Why an event can't follow on what is known of the tray, and what to do. */
export function eventRefusal(
  code: EventRefusal['code'],
  event: TrayEvent,
  tray: RegisteredTray | undefined,
  desk: Desk,
): string {
  const toTray = event.event === 'potted-on' ? event.toTray : '';
  const { answers } = desk.say;
  switch (code) {
    case 'unknown-tray':
      return noSuchTray(desk, event.tray);
    case 'tray-ended':
      return answers.trayEnded(event.tray);
    case 'tray-exists':
      return answers.trayExists(event.tray);
    case 'unknown-to-tray':
      return noSuchTray(desk, toTray, 'pot-on');
    case 'same-tray':
      return answers.sameTray(event.tray);
    case 'smaller-block':
      return answers.smallerBlock(toTray, event.tray, tray?.blockSideMm);
  }
}
