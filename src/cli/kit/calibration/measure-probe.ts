import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import type { DetailedSample } from '../../../board/station/detailed-sample.js';
import type { BoardProbeReader } from '../../../board/station/probe-reader.js';
import type { Clock } from '../../../monitor/ports/ports.js';
import { median } from '../../../numbers/median.js';
import { boardsMet } from '../watching/watch-probes.js';

const sampleCount = 5;
const betweenMs = 2_000;
/** Readings that spread further than this are not steady: the block is still draining, or a contact is loose. */
const steadyVolts = 0.02;
const steadyCounts = 400;

export type Measured =
  | { readonly kind: 'measured'; readonly volts: number | undefined; readonly counts: number }
  | { readonly kind: 'failed'; readonly reason: string };

/** A steady reading of one probe: the median of five within eight seconds, or why there is none. */
export async function measureProbe(
  reader: BoardProbeReader,
  { id: probeId, hookup }: ProbeConfig,
  clock: Clock,
  signal: AbortSignal,
): Promise<Measured> {
  if (hookup?.part === 'delivered')
    return await nextDelivered(reader, probeId, hookup.staleAfterS, clock, signal);
  await boardsMet(reader, clock, signal);
  const samples: DetailedSample[] = [];
  for (let taken = 0; taken < sampleCount; taken++) {
    if (taken > 0) await clock.sleep(betweenMs, signal);
    const sample = (await reader.sample(signal)).find((one) => one.probeId === probeId);
    if (sample?.counts === undefined)
      return { kind: 'failed', reason: sample?.reason ?? 'this probe gives no counts' };
    samples.push(sample);
  }
  const counts = samples.flatMap((sample) => (sample.counts === undefined ? [] : [sample.counts]));
  const volts = samples.flatMap((sample) => (sample.volts === undefined ? [] : [sample.volts]));
  const unsteady = volts.length > 0 ? spread(volts) > steadyVolts : spread(counts) > steadyCounts;
  if (unsteady)
    return {
      kind: 'failed',
      reason: `the probe is not steady (${counts.join(', ')} counts): wait until the block has drained, and check the plugs`,
    };
  return {
    kind: 'measured',
    volts: volts.length > 0 ? median(volts) : undefined,
    counts: median(counts),
  };
}

/** The next reading of a probe that speaks when it wants to: its node has averaged, so that one is enough. */
async function nextDelivered(
  reader: BoardProbeReader,
  probeId: string,
  patienceS: number,
  clock: Clock,
  signal: AbortSignal,
): Promise<Measured> {
  const endMs = clock.monotonicMs() + patienceS * 1000;
  for (;;) {
    const sample = (await reader.sample(signal)).find((one) => one.probeId === probeId);
    if (sample?.rawValue !== undefined)
      return { kind: 'measured', volts: sample.rawValue, counts: sample.rawValue };
    if (clock.monotonicMs() > endMs)
      return { kind: 'failed', reason: sample?.reason ?? `nothing came within ${patienceS} s` };
    await clock.sleep(betweenMs, signal);
  }
}

function spread(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
