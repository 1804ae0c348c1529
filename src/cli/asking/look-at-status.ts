import { asksForHelp } from '../../../shared/base/asks-for-help.js';
import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_DAY, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { StatusReport } from '../../../shared/cli-reports.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import { messagesWaiting } from '../../messaging/outbox/messages-waiting.js';
import { errorText, MessagingError } from '../../messaging/wire/messaging-error.js';
import type { KnownProbe, ReviewQueries } from '../../monitor/ports/ports.js';
import { standingAlarms } from '../../review/store-feed/standing-alarms.js';
import { glanceAtStore } from '../../store/glance.js';
import type { AskedFarm } from '../config/asked-config.js';
import { standingAlarmsAt } from './alarms-at-broker.js';
import { addressOf, farmNowMs, type ReachFlags, reachMonitor } from './reach-monitor.js';

/** As the page does: an alarm that stands for longer has been forgotten by everybody. */
const ALARMS_LOOKED_BACK_MS = 60 * MS_PER_DAY;
const MOST_ALARMS = 100_000;
/** What is on its way for longer waits for something (judgement). */
const WAITS_AFTER_MS = 5 * MS_PER_MIN;

type Monitor = StatusReport['monitor'];

interface Heard {
  readonly farm: string;
  readonly nowMs: number;
  readonly monitor: Monitor;
  readonly alarms: readonly AlarmTransition[];
}

/** The monitor as its broker tells of it. Rejects with a MessagingError when there is no such broker or farm. */
async function hear(flags: ReachFlags, broker: string): Promise<Heard> {
  const reached = await reachMonitor(flags);
  const { monitor } = reached;
  try {
    const { online, at, drive, troubles = [] } = monitor.status;
    return {
      farm: monitor.farm,
      nowMs: await farmNowMs(reached),
      monitor: {
        state: online ? 'runs' : 'ended',
        broker,
        ...(drive === undefined ? {} : { drive }),
        ...(at === undefined ? {} : { since: at }),
        ...(online ? {} : { sentence: 'It is not running. Start it with "drybell run".' }),
        troubles,
      },
      alarms: await standingAlarmsAt(monitor),
    };
  } finally {
    await monitor.close();
  }
}

/** Readings without a value are looked through one by one so far back, beyond that in stretches. */
const LOOKED_BACK = 100;
const STRETCHES = 1000;

/** When a probe last gave a value; undefined for one that was asked and never answered. Long ago it is told to the stretch. */
async function answeredAtMs(
  queries: ReviewQueries,
  { probeId, firstAtMs, lastAtMs }: KnownProbe,
): Promise<number | undefined> {
  const span = { fromMs: firstAtMs, toMs: lastAtMs + 1 };
  const newest = await queries.readings(probeId, span, LOOKED_BACK);
  const answer = newest.findLast(({ rawValue }) => rawValue !== undefined);
  if (answer !== undefined || newest.length < LOOKED_BACK) return answer?.observedAtMs;
  return (await queries.readingBuckets(probeId, span, STRETCHES)).at(-1)?.atMs;
}

/** What the store tells: newest readings, and the alarms as they last stood. */
function glance(folder: string, nowMs: number) {
  return glanceAtStore(folder, async (queries) => ({
    answers: new Map(
      await Promise.all(
        (await queries.probes()).map(
          async (probe): Promise<[string, number | undefined]> => [
            probe.probeId,
            await answeredAtMs(queries, probe),
          ],
        ),
      ),
    ),
    alarms: standingAlarms(
      await queries.facts(
        ['alarm'],
        { fromMs: nowMs - ALARMS_LOOKED_BACK_MS, toMs: nowMs + MS_PER_DAY },
        MOST_ALARMS,
      ),
    ),
  }));
}

/** What waits on each way out; a way on which nothing does is named as well. */
function outgoing({ store, messaging }: FarmConfig): StatusReport['outgoing'] {
  const waiting = new Map(messagesWaiting(store.folder).map((one) => [one.target, one]));
  return ['', ...messaging.webhooks.map(({ id }) => id)].map((target) => {
    const found = waiting.get(target);
    return {
      to: target === '' ? 'broker' : target,
      waiting: found?.count ?? 0,
      ...(found === undefined ? {} : { oldestAt: toInstant(found.oldestAtMs) }),
    };
  });
}

/** Configured probes and those attached since, each with its newest value. */
function probeAges(
  config: FarmConfig,
  newest: ReadonlyMap<string, number | undefined>,
): StatusReport['probes'] {
  return config.probes.map(({ id }) => {
    const atMs = newest.get(id);
    return { id, ...(atMs === undefined ? {} : { newestAt: toInstant(atMs) }) };
  });
}

function isWell(report: Omit<StatusReport, 'well'>): boolean {
  const nowMs = Date.parse(report.at);
  return (
    report.monitor.state === 'runs' &&
    report.store?.sentence === undefined &&
    (report.store?.aside ?? []).length === 0 &&
    !report.outgoing.some(
      ({ oldestAt }) => oldestAt !== undefined && nowMs - Date.parse(oldestAt) > WAITS_AFTER_MS,
    ) &&
    !report.alarms.some(asksForHelp)
  );
}

function judged(report: Omit<StatusReport, 'well'>): StatusReport {
  return { ...report, well: isWell(report) };
}

/** A farm of which only the broker is known. Rejects with a MessagingError. */
export async function statusAtBroker(flags: ReachFlags): Promise<StatusReport> {
  const { farm, nowMs, monitor, alarms } = await hear(flags, flags.broker ?? addressOf(undefined));
  return judged({ at: toInstant(nowMs), farm, monitor, probes: [], outgoing: [], alarms: [...alarms] });
}

/** What can be said of a configured farm, with its monitor running or not. Rejects with a StoreError when nothing can be looked at. */
export async function statusOfFarm(
  { file, farm: config }: AskedFarm,
  flags: ReachFlags,
  nowMs: number,
): Promise<StatusReport> {
  const broker = flags.broker ?? addressOf(config);
  const { folder } = config.store;
  const [heard, found] = await Promise.all([
    hear({ ...flags, config: file }, broker).catch((cause: unknown) => {
      if (!(cause instanceof MessagingError)) throw cause;
      return cause;
    }),
    glance(folder, nowMs),
  ]);
  const monitor: Monitor =
    heard instanceof MessagingError
      ? { state: found.isWritten ? 'unheard' : 'ended', broker, sentence: errorText(heard), troubles: [] }
      : heard.monitor;
  return judged({
    at: toInstant(nowMs),
    farm: config.farm,
    monitor,
    configuration: file,
    store: {
      folder,
      ...(found.bytes === undefined ? {} : { bytes: found.bytes }),
      aside: [...found.aside],
      ...(found.trouble === undefined ? {} : { sentence: found.trouble }),
    },
    probes: probeAges(config, found.asked?.answers ?? new Map()),
    outgoing: outgoing(config),
    alarms: [...(heard instanceof MessagingError ? (found.asked?.alarms ?? []) : heard.alarms)],
  });
}
