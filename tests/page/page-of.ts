import { type RunningPage, startPage } from '../../src/review/start-page.js';
import type { DemoFarm } from './demo-farm.js';

/** The page of a farm on this machine, at a port that is free. */
export const pageOf = ({
  config,
  store,
  feed,
}: Pick<DemoFarm, 'config' | 'store' | 'feed'>): Promise<RunningPage> =>
  startPage({ config, queries: store, live: feed, listenHost: '127.0.0.1', listenPort: 0 });
