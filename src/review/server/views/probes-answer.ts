import { toInstant } from '../../../../shared/base/ids.js';
import type { ProbeHistory, ProbesAnswer } from '../../../../shared/page/page-review.js';
import type { ReadingBucket, Span } from '../../../monitor/ports/ports.js';
import type { House } from '../house/house.js';

const PARTS = 336;
const MOST_DRIFTS = 1000;

/** The Probes view: course, gaps, drift and calibration of every probe of the farm. */
export async function probesAnswer(house: House, span: Span): Promise<ProbesAnswer> {
  const { queries, config, teller } = house;
  const seen = new Map((await queries.probes()).map((probe) => [probe.probeId, probe]));
  const drifts = await queries.facts(['probe-drift'], span, MOST_DRIFTS);
  const picture = teller.picture();
  const probes: ProbeHistory[] = [];
  for (const probe of picture.probes) {
    const known = seen.get(probe.id);
    const buckets = known === undefined ? [] : await queries.readingBuckets(probe.id, span, PARTS);
    const configured = config.probes.find((one) => one.id === probe.id);
    const begunMs = Math.max(span.fromMs, known?.firstAtMs ?? span.toMs);
    probes.push({
      probe,
      rawUnit: known?.rawUnit ?? probe.reading?.rawUnit ?? '',
      ...(known === undefined ? {} : { firstAt: toInstant(known.firstAtMs) }),
      course: {
        atS: buckets.map((bucket) => bucket.atMs / 1000),
        mean: buckets.map((bucket) => Number(bucket.mean.toPrecision(5))),
        flaggedShare: buckets.map((bucket) => bucket.flaggedCount / Math.max(1, bucket.count)),
      },
      readingCount: buckets.reduce((sum, bucket) => sum + bucket.count, 0),
      flaggedCount: buckets.reduce((sum, bucket) => sum + bucket.flaggedCount, 0),
      gaps: gapsBetween(buckets, begunMs, span.toMs, config.cadenceS * 1000),
      drifts: drifts.flatMap((fact) =>
        fact.kind === 'probe-drift' && fact.probeId === probe.id
          ? [{ at: toInstant(fact.atMs), driftM3PerM3: fact.driftM3PerM3 }]
          : [],
      ),
      calibration:
        configured?.kind === 'block-moisture'
          ? [...(configured.calibration ?? [])].sort((a, b) => a.volts - b.volts)
          : [],
    });
  }
  return { from: toInstant(span.fromMs), to: toInstant(span.toMs), probes };
}

/** Stretches of the span without a value: longer than two parts and than ten readings would have taken. */
export function gapsBetween(
  buckets: readonly ReadingBucket[],
  fromMs: number,
  toMs: number,
  cadenceMs: number,
): { from: string; to: string }[] {
  const width = Math.min(
    ...buckets.slice(1).map((bucket, index) => bucket.atMs - (buckets[index]?.atMs ?? 0)),
  );
  const partMs = Number.isFinite(width) ? width : 0;
  const longestQuietMs = Math.max(2 * partMs, 10 * cadenceMs);
  const edges = [fromMs - partMs, ...buckets.map((bucket) => bucket.atMs), toMs];
  return edges.slice(1).flatMap((atMs, index) => {
    const beforeMs = (edges[index] ?? atMs) + partMs;
    return atMs - beforeMs > longestQuietMs - partMs && atMs > beforeMs
      ? [{ from: toInstant(Math.round(beforeMs)), to: toInstant(Math.round(atMs)) }]
      : [];
  });
}
