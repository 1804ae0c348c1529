import { toInstant } from '../../../../shared/base/ids.js';
import { MS_PER_HOUR, MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { ProbeKind } from '../../../../shared/config/kit/probes.js';
import { otherHouses } from '../../../../shared/config/page.js';
import { probeVerdict, troubleOf } from '../../../../shared/facts/probe-verdict.js';
import { isBelieved } from '../../../../shared/facts/reading-belief.js';
import type { Watering } from '../../../../shared/facts/watering.js';
import type { PageAilment, PagePresent, PageProbe, PageTray } from '../../../../shared/page/page-present.js';
import type { Fact, JudgedReading } from '../../../monitor/ports/facts.js';
import type { NodeNews, ReviewQueries } from '../../../monitor/ports/ports.js';
import type { TrayNow } from '../../../watering/desk/watering-desk.js';
import type { DeskSentences } from '../../../watering/sentences/said/desk-sentences.js';
import { createSpeech, type FarmSpeech } from '../../../watering/sentences/speech.js';
import { spokenAilment, spokenAlarm, spokenNotice } from '../../../watering/sentences/spoken.js';
import type { FarmPresent, PageFeed } from '../../feed/page-feed.js';
import type { ShownProbe } from '../../feed/shown-probe.js';
import { configuredProbes } from '../../feed/shown-probe.js';

/** How far back the last watering of a tray is looked for when the page starts. */
const WATERINGS_LOOKED_BACK_MS = 14 * 24 * MS_PER_HOUR;
/** Forecasts are made by the hour; one that has missed two says nothing of now (judgement). */
const FORECAST_OF_NOW_MS = 3 * MS_PER_HOUR;
/** A bench's air older than this is not shown as the present. */
const PRESENT_AIR_MS = 30 * MS_PER_MIN;

export type FarmPicture = Omit<PagePresent, 'cursor'>;

/** Draws the page's picture of the farm: the feed's present, joined with the newest reading and watering. */
export class FarmPainter {
  readonly #readings = new Map<string, JudgedReading>();
  readonly #waterings = new Map<string, Watering>();
  /** How this farm is spoken to. */
  readonly speech: FarmSpeech;

  constructor(
    private readonly config: FarmConfig,
    private readonly feed: PageFeed,
  ) {
    this.speech = createSpeech(config);
  }

  /** What happened before this process started. */
  async lookBack(queries: ReviewQueries): Promise<void> {
    // A span does not hold its end, and the last pour may have been told this very moment.
    const toMs = this.feed.present().nowMs + 1;
    const waterings = await queries.facts(
      ['watering'],
      { fromMs: toMs - WATERINGS_LOOKED_BACK_MS, toMs },
      20_000,
    );
    for (const fact of waterings) this.take(fact);
    const lastAtMs = new Map((await queries.probes()).map((probe) => [probe.probeId, probe.lastAtMs]));
    for (const probe of this.#probes(this.feed.present())) {
      const fromMs = lastAtMs.get(probe.id);
      if (fromMs === undefined || fromMs >= toMs || this.#readings.has(probe.id)) continue;
      const newest = (await queries.readings(probe.id, { fromMs, toMs }, 1)).at(-1);
      if (newest !== undefined) this.#readings.set(probe.id, newest);
    }
  }

  take(fact: Fact): void {
    if (fact.kind === 'reading') this.#readings.set(fact.reading.probeId, fact.reading);
    if (fact.kind === 'watering' && fact.undone !== true) {
      const known = this.#waterings.get(fact.watering.tray);
      if (known === undefined || Date.parse(known.at) <= Date.parse(fact.watering.at))
        this.#waterings.set(fact.watering.tray, fact.watering);
    }
    if (fact.kind === 'tray-event-undone' && fact.event.event === 'watered')
      this.#waterings.delete(fact.event.tray);
  }

  paint(): FarmPicture {
    const now = this.feed.present();
    const { say } = this.speech;
    const others = otherHouses(this.config.farm, this.config.page);
    const away = now.awayUntilMs === undefined ? {} : { awayUntil: toInstant(now.awayUntilMs) };
    return {
      farm: this.config.farm,
      timeZone: this.config.timeZone,
      units: this.config.units,
      language: this.config.language,
      ...(others.length === 0 ? {} : { houseCount: others.length + 1 }),
      riskPct: this.config.notices.riskPct,
      drive: now.drive,
      at: toInstant(now.nowMs),
      clockSpeed: now.clockSpeed,
      canTell: now.canTell,
      benches: (now.benchIds ?? this.config.benches.map(({ id }) => id)).map((id) => ({
        id,
        ...this.#air(id, now),
      })),
      nextRounds: now.nextRounds.map(toInstant),
      ...away,
      ...(now.test === undefined
        ? {}
        : { testCall: { at: toInstant(now.test.atMs), ways: [...now.test.ways] } }),
      ...(now.notice === undefined ? {} : { notice: spokenNotice(now.notice, say) }),
      trays: now.trays.map((tray) => this.#tray(tray, now)),
      calls: now.standing.map((alarm) => spokenAlarm(alarm, say)),
      probes: this.#probes(now).map((probe) => this.#probe(probe, now)),
      ailments: ailmentsOf(now, say),
    };
  }

  #probes(now: FarmPresent): readonly ShownProbe[] {
    return now.probes ?? configuredProbes(this.config);
  }

  #air(benchId: string, now: FarmPresent): { temperatureC?: number; relativeHumidityPct?: number } {
    const newest = (kind: ProbeKind): number | undefined => {
      for (const probe of this.#probes(now)) {
        if (probe.kind !== kind || probe.benchId !== benchId) continue;
        const reading = this.#readings.get(probe.id);
        if (
          reading === undefined ||
          !isBelieved(reading.flag, reading.flagReasons) ||
          now.nowMs - reading.observedAtMs > PRESENT_AIR_MS
        )
          continue;
        return reading.rawValue;
      }
      return undefined;
    };
    const temperatureC = newest('air-temperature');
    const relativeHumidityPct = newest('relative-humidity');
    return {
      ...(temperatureC === undefined ? {} : { temperatureC }),
      ...(relativeHumidityPct === undefined ? {} : { relativeHumidityPct }),
    };
  }

  #tray(tray: TrayNow, now: FarmPresent): PageTray {
    const newest = now.forecasts.get(tray.id);
    const isOld = newest !== undefined && now.nowMs - Date.parse(newest.at) > FORECAST_OF_NOW_MS;
    const forecast = isOld ? undefined : newest;
    const levels = now.levels.get(tray.id);
    const lastWatering = this.#waterings.get(tray.id);
    const span = levels === undefined ? 0 : levels.containerCapacityM3PerM3 - levels.refillPointM3PerM3;
    const moistureIndex =
      forecast === undefined || levels === undefined || span <= 0
        ? undefined
        : (forecast.waterContentM3PerM3 - levels.refillPointM3PerM3) / span;
    return {
      id: tray.id,
      bench: tray.benchId,
      blockSideMm: tray.blockSideMm,
      blockCount: tray.blockCount,
      ...(tray.crop === undefined ? {} : { crop: tray.crop }),
      ...(tray.medium === undefined ? {} : { medium: tray.medium }),
      ...(tray.trayAreaM2 === undefined ? {} : { trayAreaM2: tray.trayAreaM2 }),
      cover: tray.cover,
      ...(tray.coveredAtMs === undefined ? {} : { coveredAt: toInstant(tray.coveredAtMs) }),
      ...(tray.sownAtMs === undefined ? {} : { sownAt: toInstant(tray.sownAtMs) }),
      ...(tray.germinatedAtMs === undefined ? {} : { germinatedAt: toInstant(tray.germinatedAtMs) }),
      startedAt: toInstant(tray.startedAtMs),
      hasProbe: tray.hasProbe,
      ...(moistureIndex === undefined ? {} : { moistureIndex }),
      ...(forecast === undefined ? {} : { forecast }),
      ...(isOld ? { forecastEndedAt: newest.at } : {}),
      ...(lastWatering === undefined ? {} : { lastWatering }),
    };
  }

  #probe(probe: ShownProbe, now: FarmPresent): PageProbe {
    const health = now.health.find((one) => one.kind === 'probe' && one.source === probe.id);
    const tray = now.probeTrays.get(probe.id);
    const reading = this.#readings.get(probe.id);
    const news = now.news?.get(probe.id);
    return {
      id: probe.id,
      kind: probe.kind,
      ...(probe.benchId === undefined ? {} : { bench: probe.benchId }),
      ...(tray === undefined ? {} : { tray }),
      ...probeVerdict({
        trouble: troubleOf(health?.reason ?? ''),
        isHeard: reading !== undefined || news !== undefined,
        newest: reading,
        contradictedH: now.contradictedH?.(probe.id) ?? 0,
      }),
      ...(reading === undefined ? {} : { reading: pageReading(reading) }),
      ...(news === undefined ? {} : { delivered: pageNews(news) }),
    };
  }
}

function pageNews({ heardAtMs, battery, signalDbm }: NodeNews): NonNullable<PageProbe['delivered']> {
  return {
    heardAt: toInstant(heardAtMs),
    ...(battery === undefined ? {} : { battery }),
    ...(signalDbm === undefined ? {} : { signalDbm }),
  };
}

function pageReading(reading: JudgedReading): NonNullable<PageProbe['reading']> {
  return {
    at: toInstant(reading.observedAtMs),
    ...(reading.rawValue === undefined ? {} : { rawValue: reading.rawValue }),
    rawUnit: reading.rawUnit,
    ...(reading.waterContentM3PerM3 === undefined
      ? {}
      : { waterContentM3PerM3: reading.waterContentM3PerM3 }),
    flag: reading.flag,
    flagReasons: [...reading.flagReasons],
  };
}

function ailmentsOf(now: FarmPresent, say: DeskSentences): PageAilment[] {
  const boards = now.boards
    .filter((board) => board.state !== 'ready')
    .map(({ boardId, state, own }) => ({ kind: 'board', source: boardId, reason: state, own }));
  const told = new Set(boards.map((board) => board.source));
  const parts = now.health
    .filter((part) => !part.ok && part.kind !== 'probe' && !told.has(part.source))
    .map(({ kind, source, reason, own }) => ({ kind, source, reason, own }));
  return [...boards, ...parts].map((part) => ({
    kind: part.kind,
    source: part.source,
    sentence: spokenAilment(part, say),
  }));
}
