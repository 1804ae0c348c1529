/** Sensor Measurement Lists, RFC 8428: what a pack of readings is made of. */

/** One record of a pack, JSON labels of RFC 8428 table 2. Times in seconds. */
export interface SenmlRecord {
  readonly bn?: string;
  readonly bt?: number;
  readonly bu?: string;
  readonly bv?: number;
  readonly bs?: number;
  readonly bver?: number;
  readonly n?: string;
  readonly u?: string;
  readonly v?: number;
  readonly vs?: string;
  readonly vb?: boolean;
  readonly vd?: string;
  readonly s?: number;
  readonly t?: number;
  readonly ut?: number;
}

export type SenmlPack = readonly SenmlRecord[];
