import { MessagingError } from '../../messaging/wire/messaging-error.js';
import { type JsonFlag, printJson } from '../terminal/json-option.js';
import { traysNamed } from '../terminal/typed/named-trays.js';
import { type ReachFlags, reachMonitor, wordsOf } from './reach-monitor.js';
import { trayList } from './tray-list.js';

export type ListFlags = ReachFlags & JsonFlag;

/** Asks the monitor for its trays and prints those that words mean, or all. Throws MessagingError when none answers. */
export async function listTrays(which: readonly string[], flags: ListFlags): Promise<void> {
  const farm = await reachMonitor(flags);
  const { monitor, timeZone, config, units } = farm;
  try {
    const { at, ok, sentence, trays: all } = await monitor.send({ do: 'list-trays' });
    if (!ok || all === undefined) throw new MessagingError('no-answer', sentence);
    const trays =
      which.length === 0
        ? all
        : traysNamed(
            which,
            all,
            units,
            config?.benches.map(({ id }) => id),
          );
    if (flags.json === true) printJson(trays);
    else if (trays.length === 0) console.log(`${sentence} Enter the first: drybell tray new --help`);
    else console.log(trayList({ trays, nowMs: Date.parse(at), timeZone, words: wordsOf(farm) }));
  } finally {
    await monitor.close();
  }
}
