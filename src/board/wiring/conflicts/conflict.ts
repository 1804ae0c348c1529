export type ConflictKind =
  | 'pin-taken-twice'
  | 'no-such-pin'
  | 'pin-only-reads'
  | 'pin-blinks-at-start'
  | 'out-of-analog-pins'
  | 'address-clash'
  | 'blade-on-a-pin'
  | 'over-pin-current'
  | 'over-board-current'
  | 'over-three-volt-current'
  | 'over-usb-budget'
  | 'five-volts-into-three'
  | 'three-volts-on-five'
  | 'top-not-measured'
  | 'light-too-coarse'
  | 'cable-too-long'
  | 'board-not-told-apart';

/** Where in the configuration a thing of the kit stands: keys of a probe, or of the board. */
export interface KitPlace {
  /** Absent: of the board itself. */
  readonly probeId?: string;
  readonly keys: readonly (string | number)[];
}

/** What can't be built as configured, and how to resolve it. */
export interface Conflict {
  readonly kind: ConflictKind;
  readonly boardId: string;
  /** What to change first; the last one where several are in each other's way. */
  readonly place: KitPlace;
  readonly problem: string;
  readonly remedy: string;
}
