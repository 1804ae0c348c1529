import type { TrayEvent } from '../../../shared/tray-life.js';
import type { TrayLine } from '../../../shared/tray-line.js';
import type { LeftOut, TakeBack } from '../desk-state.js';
import type { DeskEffect } from '../watering-desk.js';

/** Why a command is refused: a stable code, and a sentence that says what is wrong and what to do. Nothing has changed. */
export interface Refused {
  readonly ok: false;
  readonly code: string;
  readonly sentence: string;
}

/** What a command did. `events`, `takeBack`, `leftOut` are what an undo takes back; absent where there is nothing to undo. */
export interface Done {
  readonly ok: true;
  /** "done", or "told-already" where somebody else had said the same. */
  readonly code: 'done' | 'told-already';
  readonly sentence: string;
  readonly effects: readonly DeskEffect[];
  readonly events?: readonly TrayEvent[] | undefined;
  readonly takeBack?: TakeBack | undefined;
  readonly leftOut?: readonly LeftOut[] | undefined;
  /** What was asked for, where something was. */
  readonly trays?: TrayLine[] | undefined;
}

export type CommandOutcome = Done | Refused;

export function refused(code: string, sentence: string): Refused {
  return { ok: false, code, sentence };
}

export function done(sentence: string, effects: readonly DeskEffect[], events?: readonly TrayEvent[]): Done {
  return { ok: true, code: 'done', sentence, effects, events };
}
