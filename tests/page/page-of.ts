import type { HousesAnswer } from '../../shared/page/page-houses.js';
import { type RunningPage, startPage } from '../../src/review/start-page.js';
import type { DemoFarm } from './demo-farm.js';
import { demoHouses, demoHousesNamed } from './demo-houses.js';

type Shown = Pick<DemoFarm, 'config' | 'store' | 'feed'> & { readonly houses?: () => HousesAnswer };

/** The page of a farm on this machine, at a port that is free. */
export const pageOf = ({ config, store, feed, houses }: Shown): Promise<RunningPage> =>
  startPage({
    config,
    queries: store,
    live: feed,
    listenHost: '127.0.0.1',
    listenPort: 0,
    ...(houses === undefined ? {} : { houses }),
  });

/** The farm as one of four houses. */
export const amongHouses = <T extends Pick<DemoFarm, 'config'>>(farm: T) => ({
  ...farm,
  config: { ...farm.config, page: { ...farm.config.page, houses: demoHousesNamed } },
  houses: () => demoHouses,
});
