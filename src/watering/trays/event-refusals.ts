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
  switch (code) {
    case 'unknown-tray':
      return noSuchTray(desk, event.tray);
    case 'tray-ended':
      return `Tray "${event.tray}" has ended. Undo its end within a day, or enter a new tray.`;
    case 'tray-exists':
      return `There is a tray "${event.tray}" already. End it first, or give the new one another name.`;
    case 'unknown-to-tray':
      return noSuchTray(
        desk,
        toTray,
        'To pot on into it give its block size and count, or enter it as a new tray first.',
      );
    case 'same-tray':
      return `Tray "${event.tray}" can't be potted on into itself. Name the tray with the larger blocks.`;
    case 'smaller-block':
      return `Tray "${toTray}" has no larger blocks than "${event.tray}"${tray === undefined ? '' : ` (${desk.words.side(tray.blockSideMm)})`}. Pot on into a larger size, or end this tray.`;
  }
}
