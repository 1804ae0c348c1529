export type ConflictKind =
  | 'pin-taken-twice'
  | 'no-such-pin'
  | 'out-of-analog-pins'
  | 'address-clash'
  | 'over-pin-current'
  | 'over-usb-budget'
  | 'five-volts-into-three'
  | 'board-not-told-apart';

/** What can't be built as configured, and how to resolve it. */
export interface Conflict {
  readonly kind: ConflictKind;
  readonly boardId: string;
  readonly problem: string;
  readonly remedy: string;
}
