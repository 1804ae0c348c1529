import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_HOUR, MS_PER_MIN } from '../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Forecast } from '../../../shared/facts/forecast.js';
import type { Answer, Command } from '../../../shared/wire/command.js';
import { blockPriors } from '../../drying/physics/block-priors.js';
import type { Fact } from '../../monitor/ports/facts.js';
import type { KnownProbe, ReviewQueries } from '../../monitor/ports/ports.js';
import { createRoundCalendar } from '../../monitor/time/create-round-calendar.js';
import type { TrayNow } from '../../watering/desk/watering-desk.js';
import { createSpeech, type FarmSpeech } from '../../watering/sentences/speech.js';
import { spokenNotice } from '../../watering/sentences/spoken.js';
import { traysAfter } from '../../watering/trays/play-events.js';
import type { FarmPresent, PageFeed, TrayLevels } from '../feed/page-feed.js';
import { probesWithOthers } from '../feed/shown-probe.js';
import { noticeOfAll } from './notice-of-all.js';
import { standingAlarms } from './standing-alarms.js';

const DAY_MS = 24 * MS_PER_HOUR;
const MOST_FACTS = 200_000;
/** An alarm that stands for longer has been forgotten by everybody. */
const ALARMS_LOOKED_BACK_MS = 60 * DAY_MS;
/** Going through all readings for probes nobody named costs the database something; a new one may wait for this. */
const PROBES_LOOKED_EVERY_MS = 10 * MS_PER_MIN;
/** A house at work writes every minute or so, a forecast every hour: a store that is silent for longer is the past (judgement). */
const PAST_AFTER_MS = 3 * MS_PER_HOUR;
/** A probe that the store has not heard of for so long is silent (judgement). */
const PROBE_SILENT_MS = MS_PER_HOUR;
const NOTICE_LOOKED_BACK_MS = 3 * DAY_MS;
const COMING_ROUNDS = 6;
/** Facts that came since the last look are told to the page; a pour may be dated back by some hours. */
const NEWS_LOOKED_BACK_MS = 12 * MS_PER_HOUR;
const NEWS_KINDS = [
  'watering',
  'tray-event',
  'tray-event-undone',
  'alarm',
  'call',
  'round-notice',
  'note',
] as const;

/**
 * The farm as its store tells it: a page for the reviewer, or for several houses that write to one database, with no board
 * and no watchman behind it. It looks again every `lookEveryMs`; nothing can be told to it.
 */
export class StoreFeed implements PageFeed {
  readonly #listeners = new Set<(fact: Fact) => void>();
  #told: ReadonlySet<string> = new Set();
  #present: FarmPresent | undefined;
  #probes: { readonly atMs: number; readonly known: readonly KnownProbe[] } | undefined;
  #timer: NodeJS.Timeout | undefined;
  #closed = false;
  private readonly speech: FarmSpeech;

  private constructor(
    private readonly config: FarmConfig,
    private readonly queries: ReviewQueries,
    private readonly nowMs: () => number,
    private readonly complain: (cause: unknown) => void,
  ) {
    this.speech = createSpeech(config);
  }

  /** Looks once, so that there is something to show, then every `lookEveryMs`. `complain` hears of a look that failed. */
  static async open(options: {
    readonly config: FarmConfig;
    readonly queries: ReviewQueries;
    readonly nowMs: () => number;
    readonly lookEveryMs: number;
    readonly complain: (cause: unknown) => void;
  }): Promise<StoreFeed> {
    const feed = new StoreFeed(options.config, options.queries, options.nowMs, options.complain);
    await feed.#look();
    await feed.#news();
    feed.#schedule(options.lookEveryMs);
    return feed;
  }

  present(): FarmPresent {
    if (this.#present === undefined) throw new TypeError('the store was not looked at yet');
    return this.#present.isPast === true ? this.#present : { ...this.#present, nowMs: this.nowMs() };
  }

  subscribe(listener: (fact: Fact) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  async command(command: Command): Promise<Answer> {
    return {
      ref: command.ref ?? 'none',
      at: toInstant(this.nowMs()),
      ok: false,
      code: 'no-watchman',
      sentence: this.speech.say.house.onlyTheStore(),
    };
  }

  close(): void {
    this.#closed = true;
    clearTimeout(this.#timer);
  }

  #schedule(everyMs: number): void {
    this.#timer = setTimeout(() => {
      this.#look()
        .then(() => this.#news())
        .catch((cause: unknown) => this.complain(cause))
        .finally(() => {
          if (!this.#closed) this.#schedule(everyMs);
        });
    }, everyMs);
  }

  async #look(): Promise<void> {
    const { config, queries } = this;
    const known = await this.#knownProbes();
    const forecasts = await queries.latestForecasts();
    const heardMs = Math.max(
      ...known.map(({ lastAtMs }) => lastAtMs),
      ...forecasts.map(({ at }) => Date.parse(at)),
    );
    const isPast = Number.isFinite(heardMs) && this.nowMs() - heardMs > PAST_AFTER_MS;
    const nowMs = isPast ? heardMs : this.nowMs();
    const since = (ms: number) => ({ fromMs: Math.max(0, nowMs - ms), toMs: nowMs + 1 });
    const life = await queries.facts(['tray-event'], since(nowMs), MOST_FACTS);
    const events = life.flatMap((fact) =>
      fact.kind === 'tray-event' && fact.undone !== true ? [fact.event] : [],
    );
    const firstProbes = config.probes.flatMap((probe) =>
      'tray' in probe && probe.tray !== undefined ? [[probe.id, probe.tray] as const] : [],
    );
    const { trays, probeTrays } = traysAfter(events, new Map(firstProbes));
    const alarms = await queries.facts(['alarm'], since(ALARMS_LOOKED_BACK_MS), MOST_FACTS);
    const notices = await queries.facts(['round-notice'], since(NOTICE_LOOKED_BACK_MS), MOST_FACTS);
    const forecastOf = new Map(forecasts.map((forecast) => [forecast.tray, forecast]));
    this.#present = {
      nowMs,
      isPast,
      clockSpeed: isPast ? 0 : 1,
      drive: 'review',
      canTell: false,
      trays,
      forecasts: forecastOf,
      levels: new Map(trays.map((tray) => [tray.id, levelsOf(tray, forecastOf.get(tray.id))])),
      notice: noticeOfAll(
        notices.flatMap((fact) =>
          fact.kind === 'round-notice' ? [spokenNotice(fact.notice, this.speech.say)] : [],
        ),
      ),
      nextRounds: createRoundCalendar(config.rounds, config.timeZone).after(nowMs, COMING_ROUNDS),
      standing: standingAlarms(alarms),
      health: known.map(({ probeId, lastAtMs }) => {
        const ok = nowMs - lastAtMs <= PROBE_SILENT_MS;
        return { kind: 'probe', source: probeId, ok, reason: ok ? 'ok' : 'silent' };
      }),
      boards: [],
      probeTrays,
      probes: probesWithOthers(config, known),
      benchIds: [...new Set([...config.benches.map(({ id }) => id), ...trays.map(({ benchId }) => benchId)])],
    };
  }

  async #knownProbes(): Promise<readonly KnownProbe[]> {
    const nowMs = this.nowMs();
    if (this.#probes === undefined || nowMs - this.#probes.atMs >= PROBES_LOOKED_EVERY_MS)
      this.#probes = { atMs: nowMs, known: await this.queries.probes() };
    return this.#probes.known;
  }

  /** Tells what was kept since the last look; the first look only learns what there is. */
  async #news(): Promise<void> {
    const nowMs = this.nowMs();
    const span = { fromMs: nowMs - NEWS_LOOKED_BACK_MS, toMs: nowMs + 1 };
    const facts = await this.queries.facts(NEWS_KINDS, span, MOST_FACTS);
    const before = this.#told;
    this.#told = new Set(facts.map((fact) => JSON.stringify(fact)));
    for (const fact of facts)
      if (!before.has(JSON.stringify(fact))) for (const listener of this.#listeners) listener(fact);
    for (const { id } of this.#present?.probes ?? []) {
      const [reading] = await this.queries.readings(id, { fromMs: nowMs - MS_PER_HOUR, toMs: nowMs + 1 }, 1);
      if (reading !== undefined)
        for (const listener of this.#listeners) listener({ kind: 'reading', reading });
    }
  }
}

/** Full and refill as the model has learned them, else as the tray's own events give them, else the priors of its size. */
function levelsOf(tray: TrayNow, forecast: Forecast | undefined): TrayLevels {
  const priors = blockPriors(tray.blockSideMm);
  return {
    containerCapacityM3PerM3:
      forecast?.containerCapacityM3PerM3 ??
      tray.containerCapacityM3PerM3 ??
      priors.containerCapacityM3PerM3.mean,
    refillPointM3PerM3:
      forecast?.refillPointM3PerM3 ?? tray.refillPointM3PerM3 ?? priors.refillPointM3PerM3.mean,
  };
}
