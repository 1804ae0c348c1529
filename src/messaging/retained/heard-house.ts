import { toInstant } from '../../../shared/base/ids.js';
import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { FollowedHouse } from '../../../shared/config/page.js';
import type { AlarmTransition } from '../../../shared/facts/alarm.js';
import { type Forecast, forecastSchema } from '../../../shared/facts/forecast.js';
import type { RoundNotice } from '../../../shared/facts/round-notice.js';
import { type Status, statusSchema } from '../../../shared/facts/status.js';
import type { PageHouse } from '../../../shared/page/page-houses.js';
import {
  alarmMessageSchema,
  roundMessageSchema,
  wateringMessageSchema,
} from '../../../shared/wire/messages.js';
import { type FarmTopics, farmTopics } from '../../../shared/wire/topics.js';

/** Forecasts come by the hour; a house with trays that has missed two of them is silent (judgement). */
const SILENT_AFTER_MS = 3 * MS_PER_HOUR;

/** What one house has said over the broker, as far as an overview needs it. */
export class HeardHouse {
  readonly topics: FarmTopics;
  #status: Status | undefined;
  #notice: RoundNotice | undefined;
  readonly #forecasts = new Map<string, Forecast>();
  readonly #alarms = new Map<string, AlarmTransition>();
  readonly #wateredAtMs = new Map<string, number>();
  /** Topics whose last message was not understood. */
  readonly #unclear = new Set<string>();
  #heardAtMs: number | undefined;

  constructor(
    private readonly house: FollowedHouse,
    private readonly isThis: boolean,
  ) {
    this.topics = farmTopics(house.farm);
  }

  /** Whatever a monitor says, but no command of anybody's. */
  get filters(): readonly string[] {
    const { topics } = this;
    return [
      topics.status,
      topics.round,
      topics.forecast('+'),
      `${topics.root}/alarm/+/+`,
      topics.watering('+'),
      topics.reading('+'),
    ];
  }

  /** Takes a message at one of its topics. What was retained may be old: its own `at` says when it was said. */
  take(topic: string, text: string, isRetained: boolean, nowMs: number): void {
    const saidAtMs = this.#read(topic, text);
    // the last will is the broker's word
    if (topic === this.topics.status && saidAtMs === undefined) return;
    const atMs = isRetained ? saidAtMs : nowMs;
    if (atMs === undefined || atMs > nowMs) return;
    this.#heardAtMs = Math.max(this.#heardAtMs ?? atMs, atMs);
  }

  /** Understands it; when it was said, epoch ms, where it says so. */
  #read(topic: string, text: string): number | undefined {
    const [, , kind, of] = topic.split('/');
    this.#unclear.delete(topic);
    if (text === '') {
      this.#alarms.delete(topic);
      if (kind === 'forecast' && of !== undefined) this.#forecasts.delete(of);
      return undefined;
    }
    if (kind === 'reading') return undefined;
    const said = parsed(text);
    switch (kind) {
      case 'status': {
        const status = statusSchema.safeParse(said);
        if (!status.success) break;
        this.#status = status.data;
        return status.data.at === undefined ? undefined : Date.parse(status.data.at);
      }
      case 'round': {
        const notice = roundMessageSchema.safeParse(said);
        if (!notice.success) break;
        this.#notice = notice.data;
        return Date.parse(notice.data.at);
      }
      case 'forecast': {
        const forecast = forecastSchema.safeParse(said);
        if (!forecast.success) break;
        this.#forecasts.set(forecast.data.tray, forecast.data);
        return Date.parse(forecast.data.at);
      }
      case 'alarm': {
        const alarm = alarmMessageSchema.safeParse(said);
        if (!alarm.success) break;
        const { id: _, ...transition } = alarm.data;
        if (transition.state === 'normal') this.#alarms.delete(topic);
        else this.#alarms.set(topic, transition);
        return Date.parse(transition.at);
      }
      case 'watering': {
        const watering = wateringMessageSchema.safeParse(said);
        if (!watering.success) break;
        this.#wateredAtMs.set(watering.data.tray, Date.parse(watering.data.at));
        return Date.parse(watering.data.at);
      }
    }
    this.#unclear.add(topic);
    return undefined;
  }

  picture(nowMs: number): PageHouse {
    const { farm, page } = this.house;
    const heardAtMs = this.#heardAtMs;
    const status = this.#status;
    return {
      farm,
      isThis: this.isThis,
      ...(page === undefined ? {} : { page }),
      state: this.#state(nowMs),
      ...(heardAtMs === undefined ? {} : { heardAt: toInstant(heardAtMs) }),
      ...(status?.sentence === undefined ? {} : { sentence: status.sentence }),
      isUnclear: this.#unclear.size > 0,
      trayCount: this.#forecasts.size,
      ...this.#round(),
      ...this.#next(),
      calls: [...this.#alarms.values()].sort((a, b) => Date.parse(a.at) - Date.parse(b.at)),
    };
  }

  #state(nowMs: number): PageHouse['state'] {
    if (this.#status === undefined) return 'never-heard';
    if (!this.#status.online) return 'stopped';
    const isQuiet = this.#heardAtMs === undefined || nowMs - this.#heardAtMs > SILENT_AFTER_MS;
    return isQuiet && this.#forecasts.size > 0 ? 'silent' : 'watching';
  }

  #round(): Pick<PageHouse, 'round' | 'awayUntil'> {
    const notice = this.#notice;
    if (notice === undefined) return {};
    const noticeAtMs = Date.parse(notice.at);
    const open = notice.due.filter(({ tray }) => (this.#wateredAtMs.get(tray) ?? 0) < noticeAtMs);
    return {
      round: {
        round: notice.round,
        noticeAt: notice.at,
        dueCount: notice.due.length,
        wateredCount: notice.due.length - open.length,
        doseMl: open.reduce((sum, { doseMl }) => sum + doseMl, 0),
      },
      ...(notice.awayUntil === undefined ? {} : { awayUntil: notice.awayUntil }),
    };
  }

  #next(): Pick<PageHouse, 'next'> {
    let next: { readonly tray: string; readonly dryAtMs: number } | undefined;
    for (const { tray, at, hoursToRefillDriestTenth } of this.#forecasts.values()) {
      if (hoursToRefillDriestTenth.p50 === null) continue;
      const dryAtMs = Date.parse(at) + hoursToRefillDriestTenth.p50 * MS_PER_HOUR;
      if (next === undefined || dryAtMs < next.dryAtMs) next = { tray, dryAtMs };
    }
    return next === undefined
      ? {}
      : { next: { tray: next.tray, dryAt: toInstant(Math.round(next.dryAtMs)) } };
  }
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (cause) {
    if (cause instanceof SyntaxError) return undefined;
    throw cause;
  }
}
