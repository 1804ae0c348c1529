import type { Fact } from '../../monitor/ports/facts.js';
import { isUrgent } from './fact-index.js';

/**
 * Facts on their way to the disk, in order and bounded. When it overflows the oldest readings and forecasts go first and are
 * counted; alarms, waterings, tray events and notes stay as long as there is anything else to drop.
 */
export class HeldFacts {
  readonly #limit: number;
  #facts: Fact[] = [];
  #urgentCount = 0;
  #droppedCount = 0;

  constructor(limit: number) {
    this.#limit = limit;
  }

  add(facts: readonly Fact[]): void {
    for (const fact of facts) {
      this.#facts.push(fact);
      if (isUrgent(fact)) this.#urgentCount += 1;
    }
  }

  /** Drops what is over the limit. Called only while the disk takes nothing. */
  trim(): void {
    const excess = this.#facts.length - this.#limit;
    if (excess <= 0) return;
    let toDrop = excess;
    const kept = this.#facts.filter((fact) => {
      if (toDrop === 0 || isUrgent(fact)) return true;
      toDrop -= 1;
      return false;
    });
    this.#facts = toDrop === 0 ? kept : kept.slice(toDrop);
    this.#droppedCount += excess;
    this.#urgentCount = this.#facts.filter(isUrgent).length;
  }

  /** The oldest `count` facts. */
  oldest(count: number): readonly Fact[] {
    return this.#facts.slice(0, count);
  }

  /** Forgets the oldest `count` facts: they have been written. */
  forgetOldest(count: number): void {
    const gone = this.#facts.splice(0, count);
    this.#urgentCount -= gone.filter(isUrgent).length;
  }

  get size(): number {
    return this.#facts.length;
  }

  get hasUrgent(): boolean {
    return this.#urgentCount > 0;
  }

  /** Facts dropped since the store was opened. */
  get droppedCount(): number {
    return this.#droppedCount;
  }
}
