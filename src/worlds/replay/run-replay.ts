import { toInstant } from '../../../shared/base/ids.js';
import type { FarmConfig } from '../../../shared/config/farm.js';
import type { Pipeline } from '../../monitor/pipeline.js';
import type { Fact } from '../../monitor/ports/facts.js';
import { startEvents } from '../../monitor/start/start-events.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import type { RejectedRow } from './csv-table.js';
import { LONGEST_GAP_DAYS, LONGEST_GAP_MS, mainStretch } from './main-stretch.js';
import { type LoggedEvent, readLog } from './read-log.js';
import { type RecordedReadings, readReadings } from './read-readings.js';
import { ReplayResults, type ReplaySummary } from './results.js';

export interface ReplayInput {
  readonly config: FarmConfig;
  readonly readingsFile: string;
  readonly logFile?: string | undefined;
  readonly outFolder: string;
  /** The monitor's pipeline for this farm, standing at `startMs`; wired by the caller. */
  readonly createPipeline: (startMs: number) => Pipeline;
  readonly onReject: (row: RejectedRow) => void;
  /** Told now and then how much of the recording has been played, 0 to 1. */
  readonly onProgress?: (share: number) => void;
  /** Takes all facts in order, where a store is to be filled beside the results. */
  readonly keep?: ((facts: readonly Fact[]) => Promise<void>) | undefined;
}

/** The files can be read, but no row of them can be used. */
export class NothingToReplay extends Error {
  readonly code = 'nothing-to-replay';
  readonly retryable = false;

  constructor({ readingsFile, logFile }: ReplayInput, rejected: readonly RejectedRow[]) {
    const files = logFile === undefined ? readingsFile : `${readingsFile} and ${logFile}`;
    const [first] = rejected;
    super(
      first === undefined
        ? `${files}: no row to replay; nothing was written`
        : `${files}: none of ${rejected.length} rows can be used; nothing was written. The first: row ${first.row}: ${first.reason}`,
    );
  }
}

/** Log rows that belong to the readings' time; without readings those of the log's own main stretch. */
function nearReadings(
  readings: RecordedReadings,
  log: readonly LoggedEvent[],
  onStray: (row: LoggedEvent) => void,
): readonly LoggedEvent[] {
  const atMs = readings.count > 0 ? readings.atMs : log.map((row) => row.atMs);
  const { from, to } = readings.count > 0 ? { from: 0, to: readings.count } : mainStretch(atMs);
  const firstMs = (atMs[from] ?? 0) - LONGEST_GAP_MS;
  const lastMs = (atMs[to - 1] ?? 0) + LONGEST_GAP_MS;
  return log.filter((row) => {
    const isNear = row.atMs >= firstMs && row.atMs <= lastMs;
    if (!isNear) onStray(row);
    return isNear;
  });
}

/** Facts are taken from the pipeline at least this often, so that memory stays flat. */
const ROWS_PER_TAKE = 4096;

function startOf(readings: RecordedReadings, log: readonly LoggedEvent[]): number | undefined {
  const first = [readings.atMs[0], log[0]?.atMs].filter((atMs) => atMs !== undefined);
  return first.length === 0 ? undefined : Math.min(...first);
}

async function play(
  pipeline: Pipeline,
  readings: RecordedReadings,
  log: readonly LoggedEvent[],
  keep: (facts: readonly Fact[]) => Promise<void> | undefined,
  onProgress: (share: number) => void,
): Promise<void> {
  let nextLog = 0;
  let atMs = Number.NEGATIVE_INFINITY;
  const moveTo = (toMs: number): void => {
    // What falls due at an instant is done after everything recorded for it: stop just short of the next row.
    if (toMs > atMs) pipeline.advanceTo(toMs - 1);
    atMs = toMs;
  };
  const playLogUpTo = (limitMs: number): void => {
    for (let row = log[nextLog]; row !== undefined && row.atMs <= limitMs; row = log[++nextLog]) {
      moveTo(row.atMs);
      pipeline.trayEvent(row.event, row.atMs);
    }
  };
  for (let i = 0; i < readings.count; i++) {
    const observedAtMs = readings.atMs[i] ?? 0;
    playLogUpTo(observedAtMs);
    moveTo(observedAtMs);
    const value = readings.value[i] ?? Number.NaN;
    const probeId = readings.probeIds[readings.probe[i] ?? 0] ?? '';
    pipeline.sample({ probeId, observedAtMs, rawValue: Number.isNaN(value) ? undefined : value });
    if (i % ROWS_PER_TAKE !== 0) continue;
    await keep(pipeline.takeFacts());
    onProgress(i / readings.count);
  }
  playLogUpTo(Number.POSITIVE_INFINITY);
  if (atMs > Number.NEGATIVE_INFINITY) pipeline.advanceTo(atMs);
  await keep(pipeline.takeFacts());
}

/**
 * Runs the whole pipeline on recorded data, as fast as it can, deterministically and without looking ahead: a row
 * counts from its time on; at one instant log rows come before readings. Throws RecordingError when a file can't be
 * used and NothingToReplay when none of their rows can, and then leaves no results behind.
 */
export async function runReplay(input: ReplayInput): Promise<ReplaySummary> {
  const { config } = input;
  const rejectedRows: RejectedRow[] = [];
  const reject = (row: RejectedRow): void => {
    rejectedRows.push(row);
    input.onReject(row);
  };
  const readings = await readReadings(
    input.readingsFile,
    config.probes.map((probe) => probe.id),
    reject,
  );
  const known = {
    trays: new Set(config.trays.map((tray) => tray.id)),
    benches: new Set(config.benches.map((bench) => bench.id)),
  };
  const told = input.logFile === undefined ? [] : await readLog(input.logFile, known, reject);
  const log = nearReadings(readings, told, ({ row, atMs }) =>
    reject({
      file: input.logFile ?? '',
      row,
      reason: `${toInstant(atMs)} lies more than ${LONGEST_GAP_DAYS} days from the rest of the recording; is the date right?`,
    }),
  );
  if (readings.count + log.length === 0) throw new NothingToReplay(input, rejectedRows);
  const results = new ReplayResults(input.outFolder, createSpeech(config).say);
  try {
    const startMs = startOf(readings, log);
    if (startMs !== undefined) {
      const pipeline = input.createPipeline(startMs);
      for (const event of startEvents(config, startMs)) pipeline.trayEvent(event, startMs);
      const keep = (facts: readonly Fact[]): Promise<void> | undefined => {
        results.keep(facts);
        return input.keep?.(facts);
      };
      await play(pipeline, readings, log, keep, input.onProgress ?? (() => undefined));
    }
    const at = (atMs: number | undefined): string | null => (atMs === undefined ? null : toInstant(atMs));
    return results.finish({
      farm: config.farm,
      from: at(readings.atMs[0]),
      to: at(readings.atMs[readings.count - 1]),
      readings: readings.count,
      logRows: log.length,
      rejectedRows,
    });
  } catch (error) {
    results.abandon();
    throw error;
  }
}
