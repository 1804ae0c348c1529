import type { FarmConfig } from '../../../shared/config/farm.js';
import { otherHouses } from '../../../shared/config/page.js';
import type { HousesFollower } from '../../messaging/retained/follow-houses.js';
import { loginFor } from '../../messaging/wire/house-login.js';
import { trustOf } from '../asking/reach-monitor.js';
import { realClock } from '../program/real-clock.js';

/** Hears the houses that the configuration names, at its broker; undefined where it names none. */
export async function openHouses(config: FarmConfig, address: string): Promise<HousesFollower | undefined> {
  const { farm, messaging, store, page } = config;
  const houses = otherHouses(farm, page);
  if (houses.length === 0) return undefined;
  // what hears them is loaded by who has several
  const { followHouses } = await import('../../messaging/retained/follow-houses.js');
  return followHouses({
    farm,
    houses,
    address,
    ...loginFor(messaging, store.folder),
    ...trustOf({}, messaging),
    nowMs: realClock.nowMs,
  });
}
