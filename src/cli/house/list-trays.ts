import { MessagingError } from '../../messaging/messaging-error.js';
import { trayList } from '../terminal/tray-list.js';
import { traysNamed } from './named-trays.js';
import { type ReachFlags, reachMonitor, wordsOf } from './reach-monitor.js';

export interface ListFlags extends ReachFlags {
  readonly json?: true;
}

/** Asks the monitor for its trays and prints those that words mean, or all. Throws MessagingError when none answers. */
export async function listTrays(which: readonly string[], flags: ListFlags): Promise<void> {
  const farm = await reachMonitor(flags);
  const { monitor, timeZone, config } = farm;
  try {
    const { at, ok, sentence, trays: all } = await monitor.send({ do: 'list-trays' });
    if (!ok || all === undefined) throw new MessagingError('no-answer', sentence);
    const trays =
      which.length === 0
        ? all
        : traysNamed(
            which,
            all,
            config?.benches.map(({ id }) => id),
          );
    if (flags.json === true) console.log(JSON.stringify(trays, null, 2));
    else if (trays.length === 0) console.log(`${sentence} Enter the first: drybell tray new --help`);
    else console.log(trayList({ trays, nowMs: Date.parse(at), timeZone, words: wordsOf(farm) }));
  } finally {
    await monitor.close();
  }
}
