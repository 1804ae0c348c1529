import { toInstant } from '../../../../shared/base/ids.js';
import { MS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { TrayCurveAnswer } from '../../../../shared/page/page-review.js';
import type { Span } from '../../../monitor/ports/ports.js';
import { wateringsOf } from '../../../monitor/ports/pours-once.js';
import { configuredProbes } from '../../feed/shown-probe.js';
import type { House } from '../house/house.js';
import { Refusal } from '../http/respond.js';

const MOST_FACTS = 20_000;
/** As many forecasts as a screen has room for. */
const MOST_FORECASTS = 1500;
const MODEL_BESIDE_PROBE_MS = 21 * MS_PER_DAY;

/** One tray's drying curve with all that happened to it. */
export async function trayCurveAnswer(
  house: House,
  trayId: string,
  span: Span,
  bucketCount: number,
): Promise<TrayCurveAnswer> {
  const { queries, live, config } = house;
  const now = live.present();
  const facts = await queries.facts(['watering', 'alarm', 'tray-event'], span, MOST_FACTS, trayId);
  const events = facts.flatMap((fact) =>
    fact.kind === 'tray-event' && fact.undone !== true ? [fact.event] : [],
  );
  const attached = events.flatMap((event) => (event.event === 'attached' ? [event.probe] : []));
  const probe =
    [...now.probeTrays].find(([, tray]) => tray === trayId)?.[0] ??
    attached.at(-1) ??
    config.probes.find((one) => 'tray' in one && one.tray === trayId)?.id;
  const isMoisture = (now.probes ?? configuredProbes(config)).some(
    (one) => one.id === probe && one.kind === 'block-moisture',
  );
  const forecasts = await queries.forecasts(trayId, isMoisture ? lastOf(span) : span);
  const isKnown =
    now.trays.some((tray) => tray.id === trayId) ||
    config.trays.some((tray) => tray.id === trayId) ||
    forecasts.length + events.length > 0;
  if (!isKnown) throw new Refusal(404, 'unknown-tray', `There is no tray "${trayId}" now, nor in this span.`);
  const buckets =
    probe === undefined || !isMoisture ? [] : await queries.readingBuckets(probe, span, bucketCount);
  const stride = Math.ceil(forecasts.length / MOST_FORECASTS);
  const shown = forecasts.filter((_, index) => index % stride === 0 || index === forecasts.length - 1);
  return {
    from: toInstant(span.fromMs),
    to: toInstant(span.toMs),
    tray: trayId,
    ...(probe === undefined ? {} : { probe }),
    readings: {
      atS: buckets.map((bucket) => bucket.atMs / 1000),
      min: buckets.map((bucket) => round(bucket.min)),
      mean: buckets.map((bucket) => round(bucket.mean)),
      max: buckets.map((bucket) => round(bucket.max)),
      flagged: buckets.map((bucket) => bucket.flaggedCount === bucket.count),
    },
    forecasts: {
      atS: shown.map((one) => one.atMs / 1000),
      waterContentM3PerM3: shown.map((one) => round(one.waterContentM3PerM3)),
      p10H: shown.map((one) => one.p10H),
      p50H: shown.map((one) => one.p50H),
      p90H: shown.map((one) => one.p90H),
    },
    waterings: [...wateringsOf(facts)],
    alarms: facts.flatMap((fact) => (fact.kind === 'alarm' ? [fact.transition] : [])),
    events,
    ...now.levels.get(trayId),
  };
}

/**
 * Where a probe drew the long curve, the model's hourly course beside it would be a thicker line of the same shape: the
 * last weeks of it are enough for the fans.
 */
function lastOf(span: Span): Span {
  return { ...span, fromMs: Math.max(span.fromMs, span.toMs - MODEL_BESIDE_PROBE_MS) };
}

/** Four digits are finer than any probe. */
const round = (value: number): number => Math.round(value * 10_000) / 10_000;
