import { toInstant } from '../../shared/base/ids.js';
import { createFarmParts } from '../../src/cli/running/house-parts/farm-parts.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { startEvents } from '../../src/monitor/start/start-events.js';
import { createRoundCalendar } from '../../src/monitor/time/create-round-calendar.js';
import { channelsHoldMl } from '../../src/watering/rounds/pour-plan.js';
import { createDemoGrower } from '../../src/worlds/demo/demo-grower.js';
import { createRandomSource } from '../../src/worlds/demo/virtual-bench/air/random-source.js';
import { createVirtualBench } from '../../src/worlds/demo/virtual-bench/virtual-bench.js';
import { createBenchHistory } from './bench-history.js';
import { drawScene } from './record-scenario.js';
import type { TruePour } from './scenario.js';
import type { ScenarioRecipe } from './scenario-recipes.js';
import { type NoticeScores, scoreNotices } from './score-notices.js';

const DAY_MS = 86_400_000;
const TAIL_DAYS = 6;
/** Share of waterings that the grower tells of. */
const TELLS = 0.9;

export interface ClosedLoopResult {
  readonly notices: NoticeScores;
  /** Calls of every kind a day: all that makes a phone sound beside the notices. */
  readonly interruptionsPerDay: number;
  /** Trays that were dry at some time: mean block at the refill point. */
  readonly driedTrays: number;
  /** Waterings per tray and day, and hours below the refill point per tray-week. */
  readonly wateringsPerTrayDay: number;
  readonly dryHoursPerTrayWeek: number;
}

/**
 * A farm whose grower waters what the notices list and comes when called: the house sees what its own words lead to.
 * @param riskPct the notices' risk level; the configuration's default when absent
 * @param warmUpDays days that are not scored, while the model learns
 */
export function runClosedLoop(
  recipe: ScenarioRecipe,
  seed: number,
  warmUpDays: number,
  riskPct?: number,
): ClosedLoopResult {
  const { plan, config: drawn, startMs, endMs } = drawScene(recipe, seed);
  const config = riskPct === undefined ? drawn : { ...drawn, notices: { ...drawn.notices, riskPct } };
  const bench = createVirtualBench(plan);
  const history = createBenchHistory(bench);
  bench.observe(history);
  const holdsMl = new Map(config.trays.map((tray) => [tray.id, channelsHoldMl(tray)]));
  const grower = createDemoGrower({
    bench,
    lateOnce: false,
    mostPourMl: (trayId) => config.notices.mostPoursPerRound * (holdsMl.get(trayId) ?? 0),
  });
  const tells = createRandomSource(seed).fork('tells');
  const { pipeline } = createFarmParts(config, { startMs, drive: 'replay' });
  for (const event of startEvents(config, startMs)) pipeline.trayEvent(event, startMs);

  const facts: Fact[] = [];
  const pours: TruePour[] = [];
  let dryTrayHours = 0;
  const dried = new Set<string>();
  const cadenceMs = recipe.cadenceS * 1000;
  for (let atMs = startMs; atMs <= endMs; atMs += cadenceMs) {
    bench.step(atMs);
    pipeline.advanceTo(atMs - 1);
    for (const { id } of config.probes) {
      const rawValue = bench.readProbe(id);
      if (rawValue !== undefined) pipeline.sample({ probeId: id, observedAtMs: atMs, rawValue });
    }
    pipeline.advanceTo(atMs);
    const news = pipeline.takeFacts();
    grower.hear(news);
    for (const fact of news)
      if (fact.kind === 'round-notice' || fact.kind === 'alarm' || fact.kind === 'call') facts.push(fact);
    for (const command of grower.work(atMs)) {
      if (command.do !== 'watered' || command.tray === undefined) continue;
      pours.push({ trayId: command.tray, atMs });
      if (tells.chance(TELLS))
        pipeline.trayEvent({ at: toInstant(atMs), tray: command.tray, event: 'watered' }, atMs);
    }
    if (atMs >= startMs + warmUpDays * DAY_MS)
      for (const { id } of config.trays) {
        if (bench.truth(id).moistureIndex > 0) continue;
        dryTrayHours += recipe.cadenceS / 3600;
        dried.add(id);
      }
  }
  bench.step(endMs + TAIL_DAYS * DAY_MS);
  const fromMs = startMs + warmUpDays * DAY_MS;
  const notices = scoreNotices(facts, {
    trayIds: config.trays.map(({ id }) => id),
    history,
    pours,
    rounds: createRoundCalendar(config.rounds, config.timeZone),
    fromMs,
    toMs: endMs,
  });
  const trayDays = config.trays.length * notices.days;
  const calls = facts.filter((fact) => fact.kind === 'call' && Date.parse(fact.call.at) >= fromMs);
  return {
    notices,
    interruptionsPerDay: calls.length / notices.days,
    driedTrays: dried.size,
    wateringsPerTrayDay: pours.filter(({ atMs }) => atMs >= fromMs).length / trayDays,
    dryHoursPerTrayWeek: dryTrayHours / notices.trayWeeks,
  };
}
