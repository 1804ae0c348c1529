import type { ProbeConfig } from '../../../shared/config/probes.js';
import { type ProbeVerdict, probeVerdict, troubleOf } from '../../../shared/probe-verdict.js';
import type { DetailedSample } from '../../board/detailed-sample.js';
import type { BoardProbeReader } from '../../board/probe-reader.js';
import type { Clock } from '../../monitor/ports.js';
import { createProbeJudge, type ProbeJudge, type ProbeJudgement } from '../../sensing/probe-judge.js';
import { heardWords, moveWords, probeRow, probeTable } from './probe-rows.js';

/** A board boots for some seconds after its port is opened. */
const firstWaitMs = 12_000;
const pollMs = 100;

export interface WatchTools {
  readonly reader: BoardProbeReader;
  /** Probes with a hookup. */
  readonly probes: readonly ProbeConfig[];
  readonly clock: Clock;
  readonly everyMs: number;
  /** Says of each probe how far it has moved since the first table. */
  readonly moves?: boolean;
  /** How many tables; endless when absent. */
  readonly times?: number;
  readonly show: (text: string) => void;
  readonly signal: AbortSignal;
}

/** Waits until no board is connecting any more, at most as long as a slow one takes. */
export async function boardsMet(reader: BoardProbeReader, clock: Clock, signal: AbortSignal): Promise<void> {
  const startedMs = clock.monotonicMs();
  while (
    reader.health().some(({ state }) => state === 'connecting') &&
    clock.monotonicMs() - startedMs < firstWaitMs
  )
    await clock.sleep(pollMs, signal);
}

/** By what has been read since the start; the model, which knows the tray, does not run here. */
function verdictOf(
  judge: ProbeJudge,
  isHeard: boolean,
  nowMs: number,
  newest?: ProbeJudgement,
): ProbeVerdict {
  const { reason } = judge.health(nowMs);
  return probeVerdict({
    trouble: troubleOf(reason),
    isHeard,
    newest: newest && { flag: newest.flag, flagReasons: newest.reasons },
    contradictedH: 0,
  });
}

/** Shows each probe's counts, volts, value and flag, again and again, until the signal or `times`. */
export async function watchProbes(tools: WatchTools): Promise<void> {
  const { reader, probes, clock, show, signal } = tools;
  const judges = new Map(probes.map((probe) => [probe.id, createProbeJudge(probe)]));
  await boardsMet(reader, clock, signal);
  const last = new Map<string, DetailedSample>();
  const first = new Map<string, number>();
  for (let table = 0; table < (tools.times ?? Number.POSITIVE_INFINITY); table++) {
    if (table > 0) await clock.sleep(tools.everyMs, signal);
    const samples = await reader.sample(signal);
    const rows = probes.flatMap((probe) => {
      const judge = judges.get(probe.id);
      if (judge === undefined) return [];
      const news = samples.filter(({ probeId }) => probeId === probe.id);
      const delivered = probe.hookup?.part === 'delivered';
      if (delivered && news.length === 0) {
        const heard = reader.news?.().get(probe.id);
        return [
          probeRow(
            probe,
            last.get(probe.id),
            heard === undefined ? 'not heard yet' : heardWords(heard, clock.nowMs()),
            verdictOf(judge, heard !== undefined, clock.nowMs()),
          ),
        ];
      }
      const sample = news.at(-1);
      if (sample !== undefined) last.set(probe.id, sample);
      const judgement = judge.judge(sample?.observedAtMs ?? clock.nowMs(), sample?.rawValue);
      const start = first.get(probe.id) ?? sample?.rawValue;
      if (start !== undefined) first.set(probe.id, start);
      const moved = tools.moves === true ? moveWords(probe, start, sample?.rawValue) : '';
      const now = verdictOf(judge, true, clock.nowMs(), judgement);
      return [probeRow(probe, sample, judgement, now, moved)];
    });
    const boards = reader
      .health()
      .filter(({ state }) => state !== 'ready')
      .map(({ sentence }) => sentence);
    show([...boards, probeTable(rows)].join('\n'));
  }
}
