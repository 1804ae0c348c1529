import type { FarmWords } from '../sentences/words/farm-words.js';
import type { DeskOptions } from './desk-options.js';
import type { DeskState } from './desk-state.js';
import type { RegisteredTray } from './tray-register.js';

/** What every part of the desk works on: the farm's options, its clock, and the state that it changes. */
export interface Desk {
  readonly options: DeskOptions;
  readonly words: FarmWords;
  readonly state: DeskState;
}

/** A tray that is in use; undefined when unknown or ended. */
export function standingTray(desk: Desk, trayId: string): RegisteredTray | undefined {
  const tray = desk.state.history.now.trays.get(trayId);
  return tray?.endedAtMs === undefined ? tray : undefined;
}

/** All trays in use, in the order in which they came. */
export function standingTrays(desk: Desk): readonly RegisteredTray[] {
  return [...desk.state.history.now.trays.values()].filter((tray) => tray.endedAtMs === undefined);
}
