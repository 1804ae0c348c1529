import type { DateOrder } from '../../cells/time-cell.js';

/** How sure a recognition is: proven by the file, likely by common practice, or taken for want of better. */
export type Sureness = 'proven' | 'likely' | 'assumed';

export interface FileTimes {
  /** Columns that make the time, by index. */
  readonly columns: readonly number[];
  /** How the times are written, in words. */
  readonly form: string;
  readonly zone: string;
  readonly zoneFrom: 'each row' | 'the file' | 'you' | 'this machine';
  readonly sureness: Sureness;
  /** Epoch ms for each row of the table's data; undefined where the row has no usable time. */
  readonly atMs: readonly (number | undefined)[];
  readonly newestFirst: boolean;
  /** Rows in hours that a clock change repeats, and rows in hours that it leaves out. */
  readonly repeatedHours: number;
  readonly neverHours: number;
}

export interface TimeOptions {
  /** The logger's zone where its times carry none. */
  readonly zone?: string | undefined;
  readonly machineZone: string;
  readonly order?: DateOrder | undefined;
}
