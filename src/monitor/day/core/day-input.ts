import type { Flag } from '../../../../shared/facts/reading.js';
import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { Command } from '../../../../shared/wire/command.js';
import type { WatchmanHealth } from '../../../watering/desk/watering-desk.js';

/**
 * Everything that reaches the farm's desk and model, as data. `atMs` is when it was handed over. Played in this order from the same
 * state the same inputs give the same state and the same facts.
 */
export type DayInput =
  | {
      readonly kind: 'reading';
      readonly atMs: number;
      readonly probeId: string;
      readonly rawValue: number | undefined;
      readonly flag: Flag;
    }
  | { readonly kind: 'command'; readonly atMs: number; readonly command: Command; readonly ref: string }
  /** Somebody has said, by the command `ref`, that these trays were left out of the round at `atMs`. */
  | {
      readonly kind: 'left-out';
      readonly atMs: number;
      readonly trayIds: readonly string[];
      readonly ref: string;
    }
  | { readonly kind: 'tray-event'; readonly atMs: number; readonly event: TrayEvent }
  /** What the parts of the house say of themselves, where it differs from before. */
  | { readonly kind: 'health'; readonly atMs: number; readonly health: readonly WatchmanHealth[] }
  /** The next thing on the schedule. */
  | { readonly kind: 'due'; readonly atMs: number }
  /** The next thing on the schedule could not be done, by our own mistake: what comes after it is next. */
  | { readonly kind: 'passed-over'; readonly atMs: number }
  /** Time went on and nothing was due. */
  | { readonly kind: 'clock'; readonly atMs: number }
  /**
   * The house was opened, the clock was set, or time went by unseen: all that is remembered is dated `shiftMs` later, and what would
   * have fallen due is past.
   */
  | { readonly kind: 'start'; readonly atMs: number; readonly shiftMs: number };

/** JSON form: readings, which are nearly all, as short rows. */
type KeptInput = Exclude<DayInput, { kind: 'reading' }> | readonly [number, string, number | null, Flag];

export function keptInputs(inputs: readonly DayInput[]): readonly KeptInput[] {
  return inputs.map((input) =>
    input.kind === 'reading' ? [input.atMs, input.probeId, input.rawValue ?? null, input.flag] : input,
  );
}

export function inputsFromKept(kept: readonly KeptInput[]): DayInput[] {
  return kept.map((input): DayInput => {
    if (!('length' in input)) return input;
    const [atMs, probeId, rawValue, flag] = input;
    return { kind: 'reading', atMs, probeId, rawValue: rawValue ?? undefined, flag };
  });
}
