import { MessagingError } from '../../messaging/messaging-error.js';
import { trayList } from '../terminal/tray-list.js';
import { type ReachFlags, reachMonitor, wordsOf } from './reach-monitor.js';

export interface ListFlags extends ReachFlags {
  readonly json?: true;
}

/** Asks the monitor for its trays and prints them. Throws MessagingError when none answers. */
export async function listTrays(flags: ListFlags): Promise<void> {
  const farm = await reachMonitor(flags);
  const { monitor, timeZone } = farm;
  try {
    const { at, ok, sentence, trays } = await monitor.send({ do: 'list-trays' });
    if (!ok || trays === undefined) throw new MessagingError('no-answer', sentence);
    if (flags.json === true) console.log(JSON.stringify(trays, null, 2));
    else if (trays.length === 0) console.log(`${sentence} Enter the first: drybell tray new --help`);
    else console.log(trayList({ trays, nowMs: Date.parse(at), timeZone, words: wordsOf(farm) }));
  } finally {
    await monitor.close();
  }
}
