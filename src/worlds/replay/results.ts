import { closeSync, mkdirSync, openSync, renameSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Watering } from '../../../shared/facts/watering.js';
import type { Fact } from '../../monitor/ports/facts.js';
import { spokenFact } from '../../monitor/ports/spoken-fact.js';
import type { DeskSentences } from '../../watering/sentences/said/desk-sentences.js';
import type { RejectedRow } from './csv-table.js';
import { dryDownLine } from './line-forms.js';

const BUFFER_CHARS = 1 << 18;

/** A file written under a provisional name and put in place when it is whole. */
class ResultFile {
  private text = '';
  private readonly handle: number;
  lines = 0;

  constructor(private readonly path: string) {
    this.handle = openSync(`${path}.part`, 'w');
  }

  line(value: unknown): void {
    this.text += `${JSON.stringify(value)}\n`;
    this.lines += 1;
    if (this.text.length > BUFFER_CHARS) this.flush();
  }

  finish(): void {
    this.flush();
    closeSync(this.handle);
    renameSync(`${this.path}.part`, this.path);
  }

  abandon(): void {
    closeSync(this.handle);
    rmSync(`${this.path}.part`, { force: true });
  }

  private flush(): void {
    writeSync(this.handle, this.text);
    this.text = '';
  }
}

/** What a replay came to; no wall-clock time in it, so that two runs give the same bytes. */
export interface ReplaySummary {
  readonly farm: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly readings: number;
  readonly logRows: number;
  readonly rejected: number;
  readonly rejectedRows: readonly RejectedRow[];
  readonly forecasts: number;
  readonly alarmTransitions: number;
  readonly roundNotices: number;
  readonly waterings: { readonly logged: number; readonly detected: number };
  readonly calls: number;
  readonly dryDowns: number;
}

const RESULT_NAMES = [
  'forecasts.jsonl',
  'alarms.jsonl',
  'rounds.jsonl',
  'waterings.jsonl',
  'calls.jsonl',
  'dry-downs.jsonl',
  'summary.json',
] as const;
type ResultName = (typeof RESULT_NAMES)[number];

/** The files that a replay writes into its folder. */
export function resultFiles(folder: string): readonly string[] {
  return RESULT_NAMES.map((name) => join(folder, name));
}

/** The folder a replay writes: one JSON line per fact, put in place together at the end. */
export class ReplayResults {
  private readonly forecasts: ResultFile;
  private readonly alarms: ResultFile;
  private readonly rounds: ResultFile;
  private readonly waterings: ResultFile;
  private readonly calls: ResultFile;
  private readonly dryDowns: ResultFile;
  private readonly summary: ResultFile;
  private readonly wateringCount = { logged: 0, detected: 0 };
  /** Written at the end: what a probe shows later amends the line of a pour, it does not add one. */
  private readonly poured = new Map<string, Watering>();

  /** @param say the farm's words */
  constructor(
    folder: string,
    private readonly say: DeskSentences,
  ) {
    mkdirSync(folder, { recursive: true });
    const file = (name: ResultName): ResultFile => new ResultFile(join(folder, name));
    this.forecasts = file('forecasts.jsonl');
    this.alarms = file('alarms.jsonl');
    this.rounds = file('rounds.jsonl');
    this.waterings = file('waterings.jsonl');
    this.calls = file('calls.jsonl');
    this.dryDowns = file('dry-downs.jsonl');
    this.summary = file('summary.json');
  }

  keep(facts: readonly Fact[]): void {
    for (const told of facts) {
      const fact = spokenFact(told, this.say);
      if (fact.kind === 'forecast') this.forecasts.line(fact.forecast);
      else if (fact.kind === 'alarm') this.alarms.line(fact.transition);
      else if (fact.kind === 'round-notice') this.rounds.line(fact.notice);
      else if (fact.kind === 'call') this.calls.line(fact.call);
      else if (fact.kind === 'dry-down') this.dryDowns.line(dryDownLine(fact.dryDown));
      else if (fact.kind === 'watering') this.keepWatering(fact.watering);
    }
  }

  private keepWatering({ amends, ...watering }: Watering): void {
    this.poured.set(`${watering.tray} ${watering.at} ${watering.source}`, watering);
    if (amends !== true) this.wateringCount[watering.source] += 1;
  }

  finish(
    run: Pick<ReplaySummary, 'farm' | 'from' | 'to' | 'readings' | 'logRows' | 'rejectedRows'>,
  ): ReplaySummary {
    const { rejectedRows, ...rest } = run;
    const summary: ReplaySummary = {
      ...rest,
      rejected: rejectedRows.length,
      forecasts: this.forecasts.lines,
      alarmTransitions: this.alarms.lines,
      roundNotices: this.rounds.lines,
      waterings: this.wateringCount,
      calls: this.calls.lines,
      dryDowns: this.dryDowns.lines,
      rejectedRows,
    };
    for (const watering of this.poured.values()) this.waterings.line(watering);
    this.summary.line(summary);
    for (const file of this.files()) file.finish();
    return summary;
  }

  abandon(): void {
    for (const file of this.files()) file.abandon();
  }

  private files(): readonly ResultFile[] {
    return [
      this.forecasts,
      this.alarms,
      this.rounds,
      this.waterings,
      this.calls,
      this.dryDowns,
      this.summary,
    ];
  }
}
