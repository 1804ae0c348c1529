import { capped, type Forecaster, HORIZON_H } from './forecaster.js';
import type { Scenario } from './scenario.js';
import { PastErrors } from './yardsticks/past-errors.js';

const HOUR_MS = 3_600_000;
/** An error is known once the dry-down it is about must be over. */
const KNOWN_AFTER_MS = 72 * HOUR_MS;

/**
 * A reference, not a rival: the virtual bench's own physics started from its own true state, with yesterday's air again.
 * What it misses is the weather alone.
 */
export function createOwnPhysics(scenario: Scenario): Forecaster {
  const errors = new PastErrors();
  const { ownPhysicsH, history } = scenario.truth;
  return {
    name: 'own physics',
    reading: () => undefined,
    event: () => undefined,
    advance: (toMs) => {
      const atMs = toMs - KNOWN_AFTER_MS;
      for (const [trayId, hours] of ownPhysicsH) {
        const said = hours.get(atMs);
        const came = history.dryOut(trayId, atMs).meanBlockH;
        if (said !== undefined && came !== undefined && came > 0 && came < KNOWN_AFTER_MS / HOUR_MS)
          errors.add(said, came);
      }
    },
    forecast: (trayId, atMs) => errors.triple(capped(ownPhysicsH.get(trayId)?.get(atMs) ?? HORIZON_H)),
  };
}
