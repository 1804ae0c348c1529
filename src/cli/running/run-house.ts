import type { Logger } from 'pino';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { HousesFollower } from '../../messaging/retained/follow-houses.js';
import type { Clock, FactStore, ProbeReader, Publisher, ReviewQueries } from '../../monitor/ports/ports.js';
import { type RunningPage, startPage } from '../../review/start-page.js';
import { programVersion } from '../program/program-version.js';
import { realClock } from '../program/real-clock.js';
import { type House, openHouse } from './house-parts/house.js';
import { openHouses } from './open-houses.js';
import { Pulse } from './pulse.js';
import { closeInOrder } from './shutdown.js';

export interface RunParts {
  readonly config: FarmConfig;
  readonly drive: 'live' | 'demo';
  readonly clock: Clock;
  readonly clockSpeed: number;
  readonly reader: ProbeReader;
  readonly store: FactStore & ReviewQueries;
  readonly publisher: Publisher;
  readonly log: Logger;
  /** Resolves when somebody wants it to stop. */
  readonly stopped: Promise<void>;
  /** Called whenever the loop that does the work has come round. */
  readonly onBeat?: (house: House) => void;
  /** Called when everything answers, before the first reading. */
  readonly onReady: (house: House, page: RunningPage) => void;
}

/** Within five seconds all is closed or given up (TimeoutStopSec in the unit is twice that). */
const CLOSE_DEADLINE_MS = 4500;

/**
 * Runs the house until `stopped` or until it fails: opens it, serves the page, reads. Closes everything in order,
 * always. Rejects with what went wrong.
 */
export async function runHouse(parts: RunParts): Promise<void> {
  const { config, log, reader, store, publisher, onBeat } = parts;
  const opened: { house?: House; houses?: HousesFollower | undefined; page?: RunningPage } = {};
  const pulse = new Pulse(programVersion(), realClock.monotonicMs);
  try {
    const house = await openHouse({
      ...parts,
      onBeat: () => {
        pulse.beat();
        if (opened.house !== undefined) onBeat?.(opened.house);
      },
      complain: (mistake) => log.error({ err: mistake }, 'not-carried-out'),
    });
    opened.house = house;
    for (const sentence of house.troubles) log.warn({ sentence }, 'not-readable');
    opened.houses = await openHouses(config, publisher.address());
    const page = await startPage({
      config,
      queries: store,
      live: house.feed,
      phones: publisher.phones,
      photos: store,
      vitals: () => pulse.vitals(),
      houses: opened.houses?.answer,
      listenHost: config.page.listenHost,
      listenPort: config.page.listenPort,
      complain: (sentence) => log.warn({ sentence }, 'page-certificate'),
    });
    opened.page = page;
    parts.onReady(house, page);
    await Promise.race([house.monitor.start().finished, parts.stopped]);
  } finally {
    const outcomes = await closeInOrder(
      [
        { name: 'monitor', close: async () => opened.house?.monitor.close() },
        { name: 'page', close: async () => opened.page?.close() },
        { name: 'other houses', close: async () => opened.houses?.close() },
        { name: 'probe reader', close: () => reader.close() },
        { name: 'publisher', close: () => publisher.close() },
        { name: 'store', close: () => store.close() },
      ],
      CLOSE_DEADLINE_MS,
    );
    for (const step of outcomes) {
      if (step.outcome !== 'closed')
        log.warn(
          { step: step.name, outcome: step.outcome, err: 'cause' in step ? step.cause : undefined },
          'not-closed',
        );
    }
  }
}
