import type { Clock } from '../ports/ports.js';

/** The wall clock differs by more from elapsed time than any clock drifts between two looks, ms (judgement). */
const STEP_MS = 60_000;

/** How far the farm's time has to be moved, and why. */
export interface ClockStep {
  /** Everything remembered is to be dated by this much later; below zero: earlier. */
  readonly shiftMs: number;
  /** Time that is over without anybody having looked: nothing of it is decided any more. */
  readonly skippedMs: number;
  readonly why: 'set-back' | 'set-forward' | 'stood-still';
}

/**
 * Watches the wall clock beside elapsed time.
 *
 * A clock that goes back was ahead: what it dated is dated anew, and nothing has aged. A clock that goes forward has either come back
 * from there, or the machine slept, or it was behind since a power cut: then time has passed, and the trays have dried.
 */
export class ClockWatch {
  private lookedMs: number;
  private elapsedMs: number;

  /**
   * @param longestStillMs a look that comes so much later than the last one comes after a standstill
   * @param wentBackMs by how much what is remembered was dated earlier at the start
   */
  constructor(
    private readonly clock: Clock,
    private readonly longestStillMs: number,
    private wentBackMs = 0,
  ) {
    this.lookedMs = clock.nowMs();
    this.elapsedMs = clock.monotonicMs();
  }

  /** What has happened to the clock since the last look; undefined: nothing. */
  look(): ClockStep | undefined {
    const nowMs = this.clock.nowMs();
    const monotonicMs = this.clock.monotonicMs();
    const stillMs = monotonicMs - this.elapsedMs;
    const stepMs = nowMs - this.lookedMs - stillMs;
    this.lookedMs = nowMs;
    this.elapsedMs = monotonicMs;
    const standstillMs = stillMs > this.longestStillMs ? stillMs : 0;
    if (Math.abs(stepMs) <= STEP_MS)
      return standstillMs > 0 ? { shiftMs: 0, skippedMs: standstillMs, why: 'stood-still' } : undefined;
    if (stepMs < 0) {
      this.wentBackMs -= stepMs;
      return { shiftMs: stepMs, skippedMs: standstillMs, why: 'set-back' };
    }
    const shiftMs = Math.min(stepMs, this.wentBackMs);
    this.wentBackMs -= shiftMs;
    return { shiftMs, skippedMs: stepMs - shiftMs + standstillMs, why: 'set-forward' };
  }
}
