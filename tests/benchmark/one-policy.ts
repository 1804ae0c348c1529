import type { RoundCalendar } from '../../src/watering/desk/round-calendar.js';
import type { HoursTriple } from './forecaster.js';
import type { Announcement } from './score-notices.js';

const HOUR_MS = 3_600_000;

/**
 * What a grower is told who goes by a forecast's three numbers and one policy, whoever made the forecast. An hour before each round
 * the trays are listed whose early end (p10) does not reach the round after it; at each full hour a tray is called, once, whose
 * middle (p50) does not reach the coming round. Rounds stand on full hours.
 */
export class OnePolicy {
  readonly #called = new Set<string>();
  readonly #announced: Announcement[] = [];

  constructor(
    private readonly rounds: RoundCalendar,
    private readonly trayIds: readonly string[],
  ) {}

  /** Takes a forecaster's word at a full hour. */
  atHour(atMs: number, forecastOf: (trayId: string) => HoursTriple): void {
    const [coming, next] = this.rounds.after(atMs, 2);
    if (coming === undefined || next === undefined) return;
    const hoursTo = (roundMs: number): number => (roundMs - atMs) / HOUR_MS;
    for (const trayId of this.trayIds) {
      const { p10, p50 } = forecastOf(trayId);
      if (coming - atMs === HOUR_MS && p10 < hoursTo(next))
        this.#announced.push({ trayId, atMs, how: 'listed' });
      const isCalled = p50 < hoursTo(coming);
      if (isCalled && !this.#called.has(trayId)) this.#announced.push({ trayId, atMs, how: 'called' });
      if (isCalled) this.#called.add(trayId);
      else this.#called.delete(trayId);
    }
  }

  announcements(): readonly Announcement[] {
    return this.#announced;
  }
}
