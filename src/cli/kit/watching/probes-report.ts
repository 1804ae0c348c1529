import { toInstant } from '../../../../shared/base/ids.js';
import type { BoardsReport, ProbesReport } from '../../../../shared/cli-reports.js';
import { isBelieved } from '../../../../shared/facts/reading-belief.js';
import type { ListedPort } from '../../../board/serial/choose-port.js';
import { boardWords } from '../../../board/station/board-health.js';
import { rawUnitOf } from '../../../monitor/readings/raw-unit.js';
import type { ProbeLook } from './probe-rows.js';
import type { ProbesSeen } from './watch-probes.js';

const instant = (atMs: number | undefined): string | undefined =>
  atMs === undefined ? undefined : toInstant(atMs);

function probeReport({ probe, sample, judgement, news, verdict }: ProbeLook): ProbesReport['probes'][number] {
  return {
    probe: probe.id,
    kind: probe.kind,
    at: instant(sample?.observedAtMs),
    adcCounts: sample?.counts,
    volts: sample?.volts,
    rawValue: sample?.rawValue,
    rawUnit: rawUnitOf(probe),
    waterContentM3PerM3: judgement?.waterContentM3PerM3,
    flag: judgement?.flag,
    flagReasons: [...(judgement?.reasons ?? [])],
    counts: judgement !== undefined && isBelieved(judgement.flag, judgement.reasons),
    ok: verdict.ok,
    doubt: verdict.ok ? undefined : verdict.reason,
    reason: sample?.reason,
    heardAt: instant(news?.heardAtMs),
    battery: news?.battery,
    signalDbm: news?.signalDbm,
  };
}

/** What was seen of boards and probes, as `drybell probes --once --json` prints it. */
export function probesReport(farm: string, { atMs, boards, probes }: ProbesSeen): ProbesReport {
  return {
    farm,
    at: toInstant(atMs),
    boards: boards.map((board) => ({
      board: board.boardId,
      state: board.state,
      sentence: boardWords(board),
    })),
    probes: probes.map(probeReport),
  };
}

/** Boards that are plugged in, as `drybell probes --boards --json` prints them. */
export function boardsReport(ports: readonly ListedPort[]): BoardsReport {
  return {
    boards: ports.map(({ path, serialNumber, manufacturer, link }) => ({
      path,
      serialNumber,
      manufacturer,
      link,
    })),
  };
}

/** Every board answers, and no probe is in doubt. */
export function isAllWell({ boards, probes }: ProbesSeen): boolean {
  return boards.every(({ state }) => state === 'ready') && probes.every(({ verdict }) => verdict.ok);
}
