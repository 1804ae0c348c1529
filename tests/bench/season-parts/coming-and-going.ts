import type { Command } from '../../../shared/wire/command.js';
import type { Fact } from '../../../src/monitor/ports/facts.js';

const DAY_MS = 86_400_000;
/** Sown once a week, potted on after four (common practice for pressed blocks). */
const SOWN_EVERY_DAYS = 7;
const SOWN_AT_ONCE = 4;
const STAYS_DAYS = 28;
const CROPS = ['leek', 'celery', 'lettuce', 'onion'] as const;

/** Trays without a probe that come every week and go after four, as on a farm; watered whenever the house asks for it. */
export class ComingAndGoing {
  readonly #startMs: number;
  readonly #standing = new Map<string, number>();
  readonly #asked = new Set<string>();
  #sownCount = 0;

  constructor(startMs: number) {
    this.#startMs = startMs;
  }

  get cameCount(): number {
    return this.#sownCount;
  }

  hear(facts: readonly Fact[]): void {
    for (const fact of facts) {
      const trays =
        fact.kind === 'round-notice'
          ? fact.notice.due.map(({ tray }) => tray)
          : fact.kind === 'call'
            ? fact.call.trays
            : [];
      for (const tray of trays) if (this.#standing.has(tray)) this.#asked.add(tray);
    }
  }

  /** What the grower says at this instant. */
  work(nowMs: number): readonly Command[] {
    const said: Command[] = [];
    for (const [tray, goesMs] of this.#standing) {
      if (goesMs > nowMs) continue;
      this.#standing.delete(tray);
      this.#asked.delete(tray);
      said.push({ do: 'end', tray });
    }
    if (this.#asked.size > 0) said.push({ do: 'watered', trays: [...this.#asked] });
    this.#asked.clear();
    const dueCount = SOWN_AT_ONCE * Math.floor((nowMs - this.#startMs) / DAY_MS / SOWN_EVERY_DAYS);
    while (this.#sownCount < dueCount) {
      this.#sownCount += 1;
      const tray = `sown-${this.#sownCount}`;
      this.#standing.set(tray, nowMs + STAYS_DAYS * DAY_MS);
      const crop = CROPS[this.#sownCount % CROPS.length] ?? CROPS[0];
      said.push({ do: 'new-tray', tray, bench: 'south', blockSideMm: 38, blockCount: 72, crop });
    }
    return said;
  }
}
