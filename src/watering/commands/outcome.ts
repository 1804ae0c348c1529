import type { TrayLine } from '../../../shared/facts/tray-line.js';
import type { DeskEffect } from '../desk/watering-desk.js';

/** Why a command is refused: a stable code, and a sentence that says what is wrong and what to do. Nothing has changed. */
export interface Refused {
  readonly ok: false;
  readonly code: string;
  readonly sentence: string;
}

/** What a command did. */
export interface Done {
  readonly ok: true;
  /** "done", or "told-already" where somebody else had said the same. */
  readonly code: 'done' | 'told-already';
  readonly sentence: string;
  readonly effects: readonly DeskEffect[];
  /** What was asked for, where something was. */
  readonly trays?: TrayLine[] | undefined;
}

export type CommandOutcome = Done | Refused;

export function refused(code: string, sentence: string): Refused {
  return { ok: false, code, sentence };
}

export function done(sentence: string, effects: readonly DeskEffect[]): Done {
  return { ok: true, code: 'done', sentence, effects };
}
