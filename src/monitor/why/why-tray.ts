import { toInstant } from '../../../shared/base/ids.js';
import type { ProbeConfig } from '../../../shared/config/kit/probes.js';
import { FORECAST_HORIZON_H, type HoursQuantiles } from '../../../shared/facts/forecast.js';
import type { TrayWhy, WhyEvidence, WhySupposed } from '../../../shared/page/page-why.js';
import type { FarmModel } from '../../drying/model/farm-model.js';
import type { Supposition } from '../../drying/model/supposition.js';
import { hoursQuantiles } from '../../drying/model/tray-forecast.js';
import type { CoreParts } from '../day/core/core-parts.js';
import type { FarmCore } from '../day/core/farm-core.js';
import { type NarrowDay, playNarrow } from './narrow-day.js';
import { removables } from './told-of-tray.js';

export interface WhyParts {
  readonly core: CoreParts;
  readonly probes: readonly ProbeConfig[];
  readonly day: NarrowDay;
  /** The farm as it stands, where the day ends now: what the other trays have taught is in it. */
  readonly present: FarmCore | undefined;
}

/** What moved neither the middle nor the width by this much is nothing to tell, h (judgement: three minutes). */
const LEAST_TOLD_H = 0.05;
const WEATHERS = ['sunny', 'dull', 'dry-air', 'damp-air'] as const;

const short = (hours: number | null): number | null => (hours === null ? null : Number(hours.toFixed(2)));

/** Hours until the driest tenth is at the refill point, under a supposition. */
function hoursIf(model: FarmModel, trayId: string, supposed: Supposition): HoursQuantiles {
  const { p10, p50, p90 } = hoursQuantiles(model.forecastIf(trayId, supposed).driestTenthHours);
  return { p10: short(p10), p50: short(p50), p90: short(p90) };
}

const AS_IT_IS = { what: 'as-it-is' } as const;

/**
 * Why a tray's forecast stands where it does: its day is played again without each piece of evidence, and the forecast made anew
 * under other weather. Yields between the pieces, so that whoever drives it can do something else meanwhile; undefined when the
 * tray is not there at the end of its day.
 */
export function* whyTray({ core, probes, day, present }: WhyParts): Generator<void, TrayWhy | undefined> {
  const { trayId } = day;
  const base = playNarrow(core, day);
  if (!isThere(base.core, trayId)) return undefined;
  // What is asked of the farm as it stands is asked at once: it goes on between two pieces.
  const { hours, evidence, supposed } = standingOf(present ?? base.core, trayId);
  const without = function* (about: Omit<WhyEvidence, 'without'>, played: () => FarmCore): Generator<void> {
    yield;
    const other = played();
    if (isThere(other, trayId)) evidence.push({ ...about, without: hoursIf(other.model, trayId, AS_IT_IS) });
  };
  for (const { about, isOf } of removables(day, base.doneRefs, probes))
    yield* without(about, () => playNarrow(core, day, isOf).core);
  yield* without({ kind: 'others' }, () => playNarrow(core, day, undefined, false).core);
  return {
    tray: trayId,
    at: toInstant(day.untilMs),
    since: toInstant(day.state.nowMs),
    hours,
    evidence: evidence
      .filter(({ without }) => Math.max(movedH(hours, without), widenedH(hours, without)) >= LEAST_TOLD_H)
      .sort((a, b) => movedH(hours, b.without) - movedH(hours, a.without)),
    supposed,
  };
}

function isThere(core: FarmCore, trayId: string): boolean {
  return core.model.trayIds().includes(trayId);
}

/** What the model alone can say: the forecast, what was learned, the cover, and other weather. */
function standingOf(
  { model, desk }: FarmCore,
  trayId: string,
): Pick<TrayWhy, 'hours' | 'supposed'> & { readonly evidence: WhyEvidence[] } {
  const under = (supposed: Supposition): HoursQuantiles => hoursIf(model, trayId, supposed);
  const evidence: WhyEvidence[] = [
    { kind: 'own-lessons', without: under({ what: 'tray-unlearned' }) },
    { kind: 'farm-lessons', without: under({ what: 'farm-unlearned' }) },
  ];
  const supposed = WEATHERS.map((what): WhySupposed => ({ what, hours: under({ what }) }));
  const cover = desk.trays().find(({ id }) => id === trayId)?.cover ?? 'none';
  if (cover !== 'none') {
    const bare = under({ what: 'cover', cover: 'none' });
    evidence.push({ kind: 'cover', without: bare });
    supposed.push({ what: 'cover', cover: 'none', hours: bare });
  }
  return { hours: under(AS_IT_IS), evidence, supposed };
}

const within = (hours: number | null): number => hours ?? FORECAST_HORIZON_H;

function movedH(hours: HoursQuantiles, without: HoursQuantiles): number {
  return Math.abs(within(hours.p50) - within(without.p50));
}

function widenedH(hours: HoursQuantiles, without: HoursQuantiles): number {
  const width = ({ p10, p90 }: HoursQuantiles): number => within(p90) - within(p10);
  return Math.abs(width(hours) - width(without));
}
