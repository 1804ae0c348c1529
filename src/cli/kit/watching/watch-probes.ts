import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { type ProbeVerdict, probeVerdict, troubleOf } from '../../../../shared/facts/probe-verdict.js';
import { boardWords } from '../../../board/station/board-health.js';
import type { DetailedSample } from '../../../board/station/detailed-sample.js';
import type { BoardProbeReader } from '../../../board/station/probe-reader.js';
import type { BoardHealth, Clock } from '../../../monitor/ports/ports.js';
import { createProbeJudge, type ProbeJudge, type ProbeJudgement } from '../../../sensing/probe-judge.js';
import type { FarmWords } from '../../../watering/sentences/words/farm-words.js';
import { type ProbeLook, probeRow, probeTable } from './probe-rows.js';

/** A board boots for some seconds after its port is opened. */
const firstWaitMs = 12_000;
const pollMs = 100;

export interface WatchTools {
  readonly reader: BoardProbeReader;
  /** Probes with a hookup. */
  readonly probes: readonly ProbeConfig[];
  readonly clock: Clock;
  readonly everyMs: number;
  /** How many looks; endless when absent. */
  readonly times?: number;
  readonly show: (seen: ProbesSeen) => void;
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

/** All boards and probes at one moment. */
export interface ProbesSeen {
  readonly atMs: number;
  readonly boards: readonly BoardHealth[];
  readonly probes: readonly ProbeLook[];
}

/** Looks at every probe again and again, until the signal or `times`, and shows what was seen. */
export async function watchProbes(tools: WatchTools): Promise<void> {
  const { reader, probes, clock, show, signal } = tools;
  const judged = probes.map((probe) => ({ probe, judge: createProbeJudge(probe) }));
  await boardsMet(reader, clock, signal);
  const last = new Map<string, DetailedSample>();
  const first = new Map<string, number>();
  for (let look = 0; look < (tools.times ?? Number.POSITIVE_INFINITY); look++) {
    if (look > 0) await clock.sleep(tools.everyMs, signal);
    const samples = await reader.sample(signal);
    const nowMs = clock.nowMs();
    const looks = judged.map(({ probe, judge }): ProbeLook => {
      const sample = samples.findLast(({ probeId }) => probeId === probe.id);
      const news = reader.news?.().get(probe.id);
      if (sample === undefined && probe.hookup?.part === 'delivered')
        return {
          probe,
          sample: last.get(probe.id),
          news,
          verdict: verdictOf(judge, news !== undefined, nowMs),
        };
      if (sample !== undefined) last.set(probe.id, sample);
      const judgement = judge.judge(sample?.observedAtMs ?? nowMs, sample?.rawValue);
      const firstValue = first.get(probe.id) ?? sample?.rawValue;
      if (firstValue !== undefined) first.set(probe.id, firstValue);
      return {
        probe,
        sample,
        judgement,
        news,
        verdict: verdictOf(judge, true, nowMs, judgement),
        firstValue,
      };
    });
    show({ atMs: nowMs, boards: reader.health(), probes: looks });
  }
}

/** What was seen as a table, boards that are not ready above it. @param moves say how far each probe has moved */
export function probesPage({ atMs, boards, probes }: ProbesSeen, words: FarmWords, moves = false): string {
  const troubles = boards.filter(({ state }) => state !== 'ready').map((board) => boardWords(board));
  return [...troubles, probeTable(probes.map((look) => probeRow(look, atMs, moves, words)))].join('\n');
}
