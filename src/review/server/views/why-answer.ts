import { toInstant } from '../../../../shared/base/ids.js';
import { MS_PER_HOUR } from '../../../../shared/base/time-units.js';
import type { TrayWhy, WaterCourse, WhyAnswer } from '../../../../shared/page/page-why.js';
import type { CurveSample } from '../../../drying/curves/kept-dry-down.js';
import type { KeptForecast } from '../../../monitor/ports/ports.js';
import { wateringsOf } from '../../../monitor/ports/pours-once.js';
import type { House } from '../house/house.js';
import { Refusal } from '../http/respond.js';

const DAY_MS = 24 * MS_PER_HOUR;
/** How far back the last dry-downs are looked for, and how many are shown. */
const LOOKED_BACK_MS = 60 * DAY_MS;
const BEFORE_COUNT = 3;
/** A picture has no room for more points of one line. */
const MOST_POINTS = 120;
/** Without a watering on record the last days are shown. */
const UNWATERED_MS = 3 * DAY_MS;
const MOST_FACTS = 20_000;
/** A forecast that is held against what came after it is at least this old, where there is one (judgement: half a round). */
const HELD_AGAINST_MS = 6 * MS_PER_HOUR;
const HORIZON_MS = 120 * MS_PER_HOUR;

/** Why a tray stands where it does, or stood at an instant: the evidence, its forecast over what came of it, and the dry-downs before. */
export async function whyAnswer(house: House, trayId: string, atMs: number | undefined): Promise<WhyAnswer> {
  const { queries, live } = house;
  const now = live.present();
  const untilMs = atMs ?? now.nowMs;
  const span = { fromMs: Math.max(0, untilMs - LOOKED_BACK_MS), toMs: untilMs + 1 };
  const facts = await queries.facts(['watering'], span, MOST_FACTS);
  const pouredMs = wateringsOf(facts).flatMap(({ tray, at }) => (tray === trayId ? [Date.parse(at)] : []));
  const lastPourMs = pouredMs.length === 0 ? undefined : Math.max(...pouredMs);
  const fromMs = lastPourMs ?? untilMs - UNWATERED_MS;
  // What came after an instant of the past is shown as far as it is known.
  const toMs = Math.min(now.nowMs, untilMs + HORIZON_MS) + 1;
  const forecasts = await queries.forecasts(trayId, { fromMs: Math.min(fromMs, untilMs - 1), toMs });
  const dryDowns = (await queries.dryDowns(span)).filter((one) => one.trayId === trayId);
  const isKnown =
    now.trays.some(({ id }) => id === trayId) || forecasts.length + dryDowns.length + pouredMs.length > 0;
  if (!isKnown) throw new Refusal(404, 'unknown-tray', `There is no tray "${trayId}" now, nor lately.`);
  const { why, whyNot } = await weighed(house, trayId, untilMs, atMs === undefined);
  const fan = heldAgainst(forecasts, untilMs, atMs === undefined);
  return {
    tray: trayId,
    at: toInstant(untilMs),
    ...(why === undefined ? {} : { why }),
    ...(whyNot === undefined ? {} : { whyNot }),
    ...(fan === undefined
      ? {}
      : {
          fan: {
            madeAt: toInstant(fan.atMs),
            waterContentM3PerM3: fan.waterContentM3PerM3,
            p10H: fan.p10H,
            p50H: fan.p50H,
            p90H: fan.p90H,
          },
        }),
    ...(forecasts.length === 0 ? {} : { now: courseOf(fromMs, sinceOf(forecasts, fromMs)) }),
    before: [...dryDowns]
      .sort((a, b) => b.startedAtMs - a.startedAtMs)
      .slice(0, BEFORE_COUNT)
      .map(({ startedAtMs, samples }) => courseOf(startedAtMs, samples)),
    ...(lastPourMs === undefined ? {} : { lastWateringAt: toInstant(lastPourMs) }),
    ...now.levels.get(trayId),
  };
}

async function weighed(
  { live }: House,
  trayId: string,
  atMs: number,
  isNow: boolean,
): Promise<{ readonly why?: TrayWhy; readonly whyNot?: WhyAnswer['whyNot'] }> {
  if (live.why === undefined) return { whyNot: 'no-watchman' };
  if (isNow && !live.present().trays.some(({ id }) => id === trayId)) return { whyNot: 'not-there' };
  const why = await live.why(trayId, isNow ? Number.POSITIVE_INFINITY : atMs);
  return why === undefined ? { whyNot: 'too-long-ago' } : { why };
}

/** Now: the newest forecast that has had time to come true or fail; of the past: the one that stood then. */
function heldAgainst(
  forecasts: readonly KeptForecast[],
  untilMs: number,
  isNow: boolean,
): KeptForecast | undefined {
  const by = isNow ? untilMs - HELD_AGAINST_MS : untilMs;
  return forecasts.findLast((one) => one.atMs <= by) ?? forecasts[0];
}

function sinceOf(forecasts: readonly KeptForecast[], fromMs: number): readonly CurveSample[] {
  return forecasts.map(({ atMs, waterContentM3PerM3 }) => ({
    elapsedH: (atMs - fromMs) / MS_PER_HOUR,
    waterContentM3PerM3,
  }));
}

function courseOf(fromMs: number, samples: readonly CurveSample[]): WaterCourse {
  const stride = Math.ceil(samples.length / MOST_POINTS);
  const kept = samples.filter((_, place) => place % stride === 0 || place === samples.length - 1);
  return {
    from: toInstant(fromMs),
    elapsedH: kept.map(({ elapsedH }) => Math.round(elapsedH * 100) / 100),
    waterContentM3PerM3: kept.map(
      ({ waterContentM3PerM3 }) => Math.round(waterContentM3PerM3 * 10_000) / 10_000,
    ),
  };
}
