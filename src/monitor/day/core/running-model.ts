import { MS_PER_MIN } from '../../../../shared/base/time-units.js';
import type { Forecast } from '../../../../shared/facts/forecast.js';
import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { Watering } from '../../../../shared/facts/watering.js';
import type { FarmModel, ModelEvent } from '../../../drying/model/farm-model.js';
import type { TrayForecast } from '../../../drying/model/tray-forecast.js';
import { shiftSnapshot } from '../../../drying/whole/shift-snapshot.js';
import type { Fact } from '../../ports/facts.js';
import { type CoreParts, LATE_MS } from './core-parts.js';
import { ForecastBook, forecastFact, type TrayLevels } from './forecast-book.js';
import { tellModel } from './tell-model.js';

/** Rounds whose chance is published with each forecast. */
const COMING_ROUNDS = 3;
/** What is shown moves on in steps of this length, the model's own. */
const SHOWN_STEP_MS = 10 * MS_PER_MIN;
/** What says how a tray was at an instant; told later than `LATE_MS` after it teaches nothing about the present. */
const observations: ReadonlySet<TrayEvent['event']> = new Set(['looked', 'weighed', 'ready-for-water']);

/** The model as it runs through a day, and its forecasts: whatever it is told of a tray makes that tray's forecast news. */
export class RunningModel {
  model: FarmModel;
  private book: ForecastBook;
  private runMs: number;

  constructor(
    private readonly parts: CoreParts,
    state: { readonly model: unknown; readonly modelMs: number | null },
  ) {
    this.model = parts.createModel(state.model);
    this.book = new ForecastBook(this.model);
    this.runMs = state.modelMs ?? Number.NEGATIVE_INFINITY;
  }

  /** How far it was run, epoch ms; null: not yet. */
  get modelMs(): number | null {
    return Number.isFinite(this.runMs) ? this.runMs : null;
  }

  /** What it notices until an instant; nothing where it has been already. */
  runTo(atMs: number): readonly ModelEvent[] {
    if (atMs <= this.runMs) return [];
    this.runMs = atMs;
    return this.model.advanceTo(atMs);
  }

  /** Dates all that is remembered anew. */
  shiftTime(byMs: number): void {
    this.model = this.parts.createModel(shiftSnapshot(this.model.snapshot(), byMs));
    this.book = new ForecastBook(this.model);
    this.runMs += byMs;
  }

  noticedPour(trayId: string): void {
    this.book.forget(trayId);
  }

  perhapsWatered(trayId: string, atMs: number, probability: number): void {
    this.model.recordPerhapsWatered(trayId, atMs, probability);
    this.book.forget(trayId);
  }

  /** A pour that somebody told; one that the model found itself, or only words about one, it knows already. */
  watering({ source, amends, tray, at, ml, askedMl }: Watering): void {
    if (source !== 'logged' || amends === true) return;
    this.model.recordWatering(tray, Date.parse(at), ml, askedMl);
    this.book.forget(tray);
  }

  /** A look of long ago says nothing about the present. */
  trayEvent(event: TrayEvent, nowMs: number): void {
    const atMs = Date.parse(event.at);
    if (observations.has(event.event) && nowMs - atMs > LATE_MS) return;
    tellModel(this.model, event, atMs);
    this.book.forget(event.tray);
    if (event.event === 'potted-on') this.book.forget(event.toTray);
  }

  /** Every tray's latest forecast, hours counting from `nowMs`. */
  forecasts(nowMs: number, trayIds: readonly string[]): ReadonlyMap<string, TrayForecast> {
    return this.book.at(nowMs, trayIds);
  }

  /** Every tray's forecast as it is to be shown, brought forward to the model's last step. */
  shown(nowMs: number, trayIds: readonly string[]): ReadonlyMap<string, Forecast> {
    const rounds = this.parts.rounds.after(nowMs, COMING_ROUNDS);
    const known = this.book.known(Math.floor(nowMs / SHOWN_STEP_MS) * SHOWN_STEP_MS, trayIds);
    return new Map(known.map((forecast) => [forecast.trayId, forecastFact(forecast, rounds)]));
  }

  /** What it takes for full and for ready, by tray, from the latest forecasts. */
  levels(): ReadonlyMap<string, TrayLevels> {
    return this.book.levels();
  }

  /** Every tray's forecast is news, as at a start. */
  forgetAll(trayIds: readonly string[]): void {
    this.book.forgetAll(trayIds);
  }

  /** What changed or surprised since this was last asked for. */
  untold(nowMs: number, trayIds: readonly string[]): readonly Fact[] {
    return this.factsOf(this.book.takeUntold(trayIds), nowMs);
  }

  /** Every tray's forecast of the hour, those that were not told yet. */
  renewed(nowMs: number, trayIds: readonly string[]): readonly Fact[] {
    return this.factsOf(this.book.renew(nowMs, trayIds), nowMs);
  }

  private factsOf(forecasts: readonly TrayForecast[], nowMs: number): readonly Fact[] {
    const rounds = this.parts.rounds.after(nowMs, COMING_ROUNDS);
    return forecasts.map((forecast) => ({ kind: 'forecast', forecast: forecastFact(forecast, rounds) }));
  }
}
