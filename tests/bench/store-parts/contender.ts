import type { JudgedReading } from '../../../src/monitor/ports/facts.js';
import type { ReadingBucket, Span } from '../../../src/monitor/ports/ports.js';

/** A store under measurement. */
export interface Contender {
  readonly name: string;
  write(readings: readonly JudgedReading[]): Promise<void>;
  /** Everything on the disk and at rest; not part of the writing time. */
  settle(): Promise<void>;
  chart(probeId: string, span: Span, bucketCount: number): Promise<readonly ReadingBucket[] | number>;
  /** Bytes of single readings, and of everything. */
  bytes(): Promise<{ readonly readings: number; readonly all: number }>;
  close(): Promise<void>;
}
