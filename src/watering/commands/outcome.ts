import type { TrayLine } from '../../../shared/facts/tray-line.js';
import type { DeskEffect } from '../desk/watering-desk.js';
import type { Said } from '../sentences/said/said.js';

/** Why a command is refused: a stable code, and what is wrong and what to do. Nothing has changed. */
export interface Refused {
  readonly ok: false;
  readonly code: string;
  readonly said: Said;
}

/** What a command did. */
export interface Done {
  readonly ok: true;
  /** "done", or "told-already" where somebody else had said the same. */
  readonly code: 'done' | 'told-already';
  readonly said: Said;
  readonly effects: readonly DeskEffect[];
  /** What was asked for, where something was. */
  readonly trays?: TrayLine[] | undefined;
}

export type CommandOutcome = Done | Refused;

export function refused(code: string, said: Said): Refused {
  return { ok: false, code, said };
}

export function done(said: Said, effects: readonly DeskEffect[]): Done {
  return { ok: true, code: 'done', said, effects };
}
