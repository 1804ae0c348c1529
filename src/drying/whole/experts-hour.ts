import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import { HORIZON_H } from '../climate/member-draws.js';
import type { BenchOutlook } from '../climate/outlook.js';
import { SCORED_EVERY_H } from '../climate/spread-score.js';
import { expertFalls } from '../experts/expert-falls.js';
import { keepForetold, scoreReading } from '../experts/expert-scores.js';
import { breakStands, fadeEvidence, noteMisses, noteStand } from '../experts/ground.js';
import { hourOfDay, noteReading } from '../experts/reading-course.js';
import { newTrayExperts, readingOfHour, type TrayExperts } from '../experts/tray-experts.js';
import type { Farm } from '../filter/farm-state.js';
import { LOCAL } from '../filter/layout.js';
import type { ProbeState } from '../filter/probe-state.js';
import { meanLocal, type TrayState } from '../filter/tray-state.js';
import { lookAhead, modelCourse, outlookOfTray } from '../forecast/forecast-tray.js';
import { scaleOf } from '../forecast/tray-scale.js';
import { dryBy } from '../physics/drying-law.js';

/** A reading counts for the ground from this long after the top of its dry-down, h. */
const SETTLED_AFTER_H = 2;

/** Hands a step's reading of a calibrated moisture probe to its tray's experts. The first such probe of a tray speaks. */
export function tellExperts(
  farm: Farm,
  tray: TrayState,
  probe: ProbeState,
  atMs: number,
  reading: number,
): void {
  const speaker = tray.probes.find(
    ({ spec }) => spec.kind === 'block-moisture' && spec.calibration !== undefined,
  );
  if (speaker !== probe) return;
  if (tray.experts?.probeId !== probe.spec.id) {
    const neighbours = [...farm.memory.trays.values()].flatMap((other) =>
      other !== tray && other.benchId === tray.benchId && other.spec.blockSideMm === tray.spec.blockSideMm
        ? (other.experts ?? [])
        : [],
    );
    tray.experts = newTrayExperts(probe.spec.id, neighbours);
  }
  tray.experts.since.push({ atMs, reading });
}

/** The hour is over: every tray's experts hear what its probe read, are scored by it, and foretell anew. */
export function hearExperts(farm: Farm, endMs: number): void {
  const outlooks = new Map<string, BenchOutlook>();
  for (const tray of farm.memory.trays.values()) {
    const { experts } = tray;
    const seen = experts === undefined ? undefined : readingOfHour(experts.since, endMs);
    if (experts === undefined || seen === undefined) continue;
    experts.since = [];
    hear(tray, experts, seen);
    const last = experts.scores.waiting[experts.scores.waiting.length - 1];
    if (last !== undefined && seen.atMs - last.atMs < SCORED_EVERY_H * MS_PER_HOUR) continue;
    const outlook = outlooks.get(tray.benchId) ?? outlookOfTray(farm, tray, endMs);
    outlooks.set(tray.benchId, outlook);
    foretell(farm, tray, experts, outlook, endMs);
  }
}

function hear(tray: TrayState, experts: TrayExperts, seen: { atMs: number; reading: number }): void {
  const { course, scores, ground } = experts;
  const scale = scaleOf(tray);
  const sinceH = course.last === undefined ? 1 : (seen.atMs - course.last.atMs) / MS_PER_HOUR;
  const probe = tray.probes.find(({ spec }) => spec.id === experts.probeId);
  if (noteReading(course, seen, scale, tray.lastPour?.atMs ?? Number.NEGATIVE_INFINITY)) {
    scores.waiting = [];
    breakStands(ground);
  }
  const topMs = course.open[0]?.atMs ?? seen.atMs;
  const settled = seen.atMs >= tray.wickingUntilMs && seen.atMs - topMs >= SETTLED_AFTER_H * MS_PER_HOUR;
  if (settled)
    noteStand(ground, { ...seen, water: meanLocal(tray, LOCAL.water) }, sinceH, probe?.usualGapH ?? 1);
  else breakStands(ground);
  noteMisses(ground, scoreReading(scores, seen));
  fadeEvidence(ground, sinceH);
}

function foretell(
  farm: Farm,
  tray: TrayState,
  experts: TrayExperts,
  outlook: BenchOutlook,
  atMs: number,
): void {
  const { course, scores } = experts;
  const { last } = course;
  if (last === undefined) return;
  const model = modelCourse(tray, lookAhead(farm, tray, outlook, atMs), outlook);
  for (let lead = 0; lead < course.usualHours.length; lead++)
    course.usualHours[hourOfDay(atMs + lead * MS_PER_HOUR)] = model.potential[lead] as number;
  const water = meanLocal(tray, LOCAL.water);
  const own = new Float64Array(HORIZON_H + 1);
  let potential = 0;
  for (let lead = 0; lead < HORIZON_H; lead++) {
    potential += model.potential[lead] as number;
    own[lead + 1] = water - dryBy(water, potential, model.stage);
  }
  keepForetold(scores, last, expertFalls(course, model, atMs), own);
}
