import { AFTER_POUR_H, LEAST_OUTCOME_H, MOST_OUTCOME_H } from '../../src/drying/curves/came-true.js';
import { createRoundCalendar } from '../../src/monitor/time/create-round-calendar.js';
import type { Forecaster } from './forecaster.js';
import { OnePolicy } from './one-policy.js';
import type { Scenario } from './scenario.js';
import type { ScoredForecast } from './score.js';
import {
  announcementsOf,
  type NoticeTruth,
  scoreAnnouncements,
  type TrayNoticeScores,
} from './score-notices.js';

const HOUR_MS = 3_600_000;
/** Learning days before forecasts count. */
export const WARM_UP_DAYS = 3;

export interface ScenarioScores {
  readonly scenario: Scenario;
  readonly byForecaster: ReadonlyMap<string, readonly ScoredForecast[]>;
  /** Trays announced in time and falsely when a grower goes by each forecast with one policy. */
  readonly noticesByForecaster: ReadonlyMap<string, TrayNoticeScores>;
  /** The same for what the house itself listed and called, by its own desk. */
  readonly noticesByDesk: ReadonlyMap<string, TrayNoticeScores>;
}

/** Hands the recorded rows to every forecaster in the order of time and calls `atHour` at each full hour. */
export function playScenario(
  scenario: Pick<Scenario, 'readings' | 'log' | 'startMs' | 'endMs'>,
  forecasters: readonly Forecaster[],
  atHour: (atMs: number) => void,
): void {
  const { readings, log } = scenario;
  let nextLog = 0;
  let nextHourMs = Math.ceil(scenario.startMs / HOUR_MS) * HOUR_MS;
  const logUpTo = (atMs: number): void => {
    for (let row = log[nextLog]; row !== undefined && row.atMs <= atMs; row = log[++nextLog])
      for (const forecaster of forecasters) forecaster.event(row);
  };
  const hoursBefore = (atMs: number): void => {
    for (; nextHourMs < atMs; nextHourMs += HOUR_MS) {
      logUpTo(nextHourMs);
      for (const forecaster of forecasters) forecaster.advance(nextHourMs);
      atHour(nextHourMs);
    }
  };
  for (let i = 0; i < readings.count; i++) {
    const atMs = readings.atMs[i] ?? 0;
    hoursBefore(atMs);
    logUpTo(atMs);
    const probeId = readings.probeIds[readings.probe[i] ?? 0] ?? '';
    for (const forecaster of forecasters) forecaster.reading(probeId, atMs, readings.value[i] ?? 0);
  }
  hoursBefore(scenario.endMs + 1);
}

/** Plays a scenario and scores every forecaster's hourly forecasts against what would have happened without water. */
export function runScenario(scenario: Scenario, forecasters: readonly Forecaster[]): ScenarioScores {
  const { history, pours } = scenario.truth;
  const byForecaster = new Map<string, ScoredForecast[]>(forecasters.map(({ name }) => [name, []]));
  const probed = new Set(
    scenario.config.probes.flatMap((probe) =>
      'tray' in probe && probe.tray !== undefined ? [probe.tray] : [],
    ),
  );
  const countFromMs = scenario.startMs + WARM_UP_DAYS * 24 * HOUR_MS;
  const rounds = createRoundCalendar(scenario.config.rounds, scenario.config.timeZone);
  const trayIds = scenario.config.trays.map(({ id }) => id);
  const policies = forecasters.map((forecaster) => ({ forecaster, policy: new OnePolicy(rounds, trayIds) }));
  playScenario(scenario, forecasters, (atMs) => {
    for (const { forecaster, policy } of policies)
      policy.atHour(atMs, (trayId) => forecaster.forecast(trayId, atMs));
    if (atMs < countFromMs) return;
    for (const tray of scenario.config.trays) {
      const justPoured = pours.some(
        (pour) => pour.trayId === tray.id && pour.atMs <= atMs && pour.atMs > atMs - AFTER_POUR_H * HOUR_MS,
      );
      const truthH = history.dryOut(tray.id, atMs).meanBlockH;
      if (justPoured || truthH === undefined || truthH < LEAST_OUTCOME_H || truthH > MOST_OUTCOME_H) continue;
      const benchDryDowns = pours.filter(
        (pour) =>
          probed.has(pour.trayId) &&
          pour.atMs <= atMs &&
          scenario.config.trays.find((one) => one.id === pour.trayId)?.bench === tray.bench,
      ).length;
      for (const forecaster of forecasters)
        byForecaster.get(forecaster.name)?.push({
          kind: scenario.kind,
          blockSideMm: tray.blockSideMm,
          probed: probed.has(tray.id),
          benchDryDowns,
          forecast: forecaster.forecast(tray.id, atMs),
          truthH,
        });
    }
  });
  const truth: NoticeTruth = { trayIds, history, pours, rounds, fromMs: countFromMs, toMs: scenario.endMs };
  const noticesByForecaster = new Map(
    policies.map(({ forecaster, policy }) => [
      forecaster.name,
      scoreAnnouncements(policy.announcements(), truth),
    ]),
  );
  const noticesByDesk = new Map(
    forecasters.flatMap((forecaster) => {
      const facts = forecaster.takeFacts?.();
      return facts === undefined
        ? []
        : [[forecaster.name, scoreAnnouncements(announcementsOf(facts), truth)] as const];
    }),
  );
  return { scenario, byForecaster, noticesByForecaster, noticesByDesk };
}
