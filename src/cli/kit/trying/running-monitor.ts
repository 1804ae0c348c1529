import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { AlarmTransition } from '../../../../shared/facts/alarm.js';
import { loginFor } from '../../../messaging/wire/house-login.js';
import { MessagingError } from '../../../messaging/wire/messaging-error.js';
import { MonitorClient } from '../../../messaging/wire/monitor-client.js';
import { standingAlarmsAt } from '../../asking/alarms-at-broker.js';
import { addressOf, trustOf } from '../../asking/reach-monitor.js';

const PATIENCE_MS = 5000;

/** A monitor of this farm that runs already: what is out of order on it. */
export interface RunningMonitor {
  readonly address: string;
  readonly standing: readonly AlarmTransition[];
}

/** Looks for this farm's own monitor at the broker of the configuration; undefined when none runs there. */
export async function findRunningMonitor(config: FarmConfig): Promise<RunningMonitor | undefined> {
  const { messaging, farm } = config;
  const address = addressOf(config);
  let monitor: MonitorClient;
  try {
    monitor = await MonitorClient.reach({
      address,
      farm,
      ...loginFor(messaging, config.store.folder),
      patienceMs: PATIENCE_MS,
      ...trustOf({}, messaging),
    });
  } catch (cause) {
    // nobody there, or somebody else: the tries of broker and page say which
    if (cause instanceof MessagingError) return undefined;
    throw cause;
  }
  try {
    if (!monitor.status.online) return undefined;
    return { address, standing: await standingAlarmsAt(monitor) };
  } finally {
    await monitor.close();
  }
}
