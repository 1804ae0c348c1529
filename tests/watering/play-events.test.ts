import { describe, expect, it } from 'vitest';
import { toInstant } from '../../shared/base/ids.js';
import type { TrayEvent } from '../../shared/facts/tray-life.js';
import { recordEvent, startHistory, type TrayHistory } from '../../src/watering/desk/tray-history.js';
import { traysAfter } from '../../src/watering/trays/play-events.js';
import { HOUR, MIDNIGHT } from './helpers.js';

const at = (hour: number): string => toInstant(MIDNIGHT + hour * HOUR);
const probes = [['moist-t1', 't1']] as const;

const events: readonly TrayEvent[] = [
  { event: 'germinated', at: at(-2), tray: 't1' },
  { event: 'new', at: at(0), tray: 't1', bench: 'south', blockSideMm: 19, blockCount: 280, crop: 'celery' },
  { event: 'new', at: at(0), tray: 't2', bench: 'south', blockSideMm: 38, blockCount: 72 },
  { event: 'new', at: at(0), tray: 't3', bench: 'south', blockSideMm: 19, blockCount: 280 },
  { event: 'germinated', at: at(1), tray: 't3' },
  { event: 'sown', at: at(2), tray: 't3' },
  { event: 'attached', at: at(3), tray: 't2', probe: 'moist-t1' },
  { event: 'attached', at: at(4), tray: 't1', probe: 'moist-t1' },
  { event: 'potted-on', at: at(5), tray: 't1', toTray: 't2' },
];

/** The same events as they come to the desk. */
function atTheDesk(): TrayHistory {
  const asTold = [...events.slice(1, 4), ...events.slice(0, 1), ...events.slice(4)];
  return asTold.reduce<TrayHistory>((history, event) => {
    const outcome = recordEvent(history, event);
    return 'refused' in outcome ? history : outcome;
  }, startHistory(probes));
}

describe('traysAfter()', () => {
  it('one event has one meaning: review shows the trays that the desk has', () => {
    const { trays, probeTrays } = traysAfter(events, new Map(probes));
    const desk = atTheDesk().now;
    expect(trays).toEqual([...desk.trays.values()].filter(({ endedAtMs }) => endedAtMs === undefined));
    expect([...probeTrays]).toEqual([...desk.probeTray]);
  });

  it('the heir has crop and dates, an ended tray keeps no probe, and who sows anew has nothing germinated', () => {
    const { trays, probeTrays } = traysAfter(events, new Map(probes));
    expect(trays.map(({ id }) => id)).toEqual(['t2', 't3']);
    expect(trays[0]).toMatchObject({ crop: 'celery', germinatedAtMs: MIDNIGHT - 2 * HOUR, hasProbe: false });
    expect([...probeTrays]).toEqual([]);
    expect(trays[1]).toMatchObject({ sownAtMs: MIDNIGHT + 2 * HOUR });
    expect(trays[1]?.germinatedAtMs).toBeUndefined();
  });
});
