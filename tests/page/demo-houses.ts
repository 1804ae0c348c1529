import { toInstant } from '../../shared/base/ids.js';
import type { HousesAnswer, PageHouse } from '../../shared/page/page-houses.js';
import { HOUR_MS, SEASON_END_MS } from './demo-season.js';

const at = (hours: number): string => toInstant(SEASON_END_MS + hours * HOUR_MS);

const watched: PageHouse = {
  farm: 'alder-row',
  isThis: true,
  state: 'watching',
  heardAt: at(-0.02),
  isUnclear: false,
  trayCount: 15,
  round: { round: at(2.8), noticeAt: at(-0.5), dueCount: 11, wateredCount: 3, doseMl: 6400 },
  next: { tray: 't2', dryAt: at(1.5) },
  calls: [
    {
      at: at(-1),
      kind: 'refill',
      state: 'unacknowledged',
      tray: 't2',
      sentence: 't2 (minis, lettuce) will be dry about 18:40: water it before the round.',
    },
  ],
};

/** Four houses, one of each state. */
export const demoHouses: HousesAnswer = {
  at: at(0),
  houses: [
    watched,
    {
      ...watched,
      farm: 'alder-north',
      isThis: false,
      page: 'http://alder-north.lan:8118/',
      calls: [],
      round: { round: at(2.8), noticeAt: at(-0.5), dueCount: 0, wateredCount: 0, doseMl: 0 },
      awayUntil: at(14),
      next: { tray: 'n3', dryAt: at(30) },
      isUnclear: true,
    },
    { ...watched, farm: 'alder-west', isThis: false, state: 'silent', heardAt: at(-5), calls: [] },
    {
      farm: 'alder-hill',
      isThis: false,
      state: 'never-heard',
      isUnclear: false,
      trayCount: 0,
      calls: [],
    },
  ],
};

/** How a page's configuration names them. */
export const demoHousesNamed = demoHouses.houses.map(({ farm }) => ({ farm }));
