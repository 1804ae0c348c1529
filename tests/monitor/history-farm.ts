import { farmConfigSchema } from '../../shared/config/farm.js';
import type { Answer, Command } from '../../shared/wire/command.js';
import { createFarmParts, type FarmParts, reopenFarm } from '../../src/cli/running/house-parts/farm-parts.js';
import { chunksFromKept } from '../../src/monitor/day/kept-day.js';
import type { Fact } from '../../src/monitor/ports/facts.js';
import { startEvents } from '../../src/monitor/start/start-events.js';
import { spokenAnswer } from '../../src/watering/sentences/spoken.js';
import { english } from '../helpers/in-words.js';

export const START_MS = Date.parse('2026-04-18T03:10:00Z');
export const MIN_MS = 60_000;
export const HOUR_MS = 60 * MIN_MS;

const config = farmConfigSchema.parse({
  farm: 'alder-row',
  benches: [{ id: 'south', temperatureLimitsC: { high: 24 } }, { id: 'north' }],
  trays: [
    { id: 't1', bench: 'south', blockSideMm: 19, blockCount: 280, crop: 'celery' },
    { id: 't2', bench: 'south', blockSideMm: 38, blockCount: 72 },
  ],
  probes: [
    { id: 'temp', kind: 'air-temperature', bench: 'south' },
    {
      id: 'moist',
      kind: 'block-moisture',
      tray: 't1',
      calibration: [
        { volts: 2.21, waterContentM3PerM3: 0.155 },
        { volts: 1.33, waterContentM3PerM3: 0.581 },
      ],
    },
  ],
});

/** A number from 0 to 1 that looks like chance and depends on this one alone. */
function scatter(of: number): number {
  const turned = Math.sin(of * 12.9898) * 43_758.5453;
  return turned - Math.floor(turned);
}

/** What the probes read `minute` minutes after the start: a warm bench, blocks that dry, and water at some hours. */
function readings(minute: number, pouredMinutes: readonly number[]): { temp: number; moist: number } {
  const since = Math.min(
    ...pouredMinutes.filter((at) => at <= minute).map((at) => minute - at),
    minute + 240,
  );
  const soaking = Math.min(1, since / 40);
  return {
    temp: 21 + 4 * Math.sin(minute / 240) + 0.2 * scatter(minute),
    moist: 2.1 - 0.68 * soaking + 0.0009 * since + 0.006 * scatter(minute + 0.5),
  };
}

type States = Readonly<Record<string, unknown>>;

/** A house without a store or a clock: what it would keep is kept here, and it can be opened again from that. */
export class HistoryFarm {
  farm: FarmParts;
  readonly facts: Fact[] = [];
  private minute = 0;
  private kept: States = {};

  constructor(private readonly pouredMinutes: readonly number[] = []) {
    this.farm = createFarmParts(config, { startMs: START_MS, drive: 'live' });
    for (const event of startEvents(config, START_MS)) this.farm.pipeline.trayEvent(event, START_MS);
    this.save();
  }

  get nowMs(): number {
    return START_MS + this.minute * MIN_MS;
  }

  /** Reads every ten minutes for this long. */
  read(minutes: number): void {
    const { pipeline } = this.farm;
    for (const until = this.minute + minutes; this.minute < until; ) {
      this.minute += 10;
      const { temp, moist } = readings(this.minute, this.pouredMinutes);
      pipeline.advanceTo(this.nowMs - 1);
      pipeline.sample({ probeId: 'temp', observedAtMs: this.nowMs, rawValue: temp });
      pipeline.sample({ probeId: 'moist', observedAtMs: this.nowMs, rawValue: moist });
      pipeline.advanceTo(this.nowMs);
    }
  }

  /** Time goes on by less than a reading's. */
  wait(minutes: number): void {
    this.minute += minutes;
    this.farm.pipeline.advanceTo(this.nowMs);
  }

  tell(command: Command, ref: string): Answer {
    return spokenAnswer(this.farm.pipeline.command(command, ref), english);
  }

  takeFacts(): readonly Fact[] {
    const facts = this.farm.pipeline.takeFacts();
    this.facts.push(...facts);
    return facts;
  }

  save(): void {
    this.takeFacts();
    const changed = JSON.parse(JSON.stringify(this.farm.pipeline.dayDocuments())) as States;
    this.kept = { ...this.kept, ...changed };
  }

  /** Opens the farm from what was saved last; what has come since is lost. */
  async reopen(): Promise<void> {
    const past = await chunksFromKept(async (name) => this.kept[name], undefined);
    const reopened = reopenFarm(config, { startMs: this.nowMs, drive: 'live' }, past);
    if (reopened === undefined) throw new Error('the day can not be opened again');
    this.farm = reopened.farm;
    this.takeFacts();
  }

  /** Everything desk and model remember. */
  states(): string {
    return JSON.stringify([this.farm.desk.snapshot(), this.farm.model.snapshot()]);
  }

  /** Forecasts of the next hours. */
  forecasts(hours: number): string {
    this.takeFacts();
    this.read(hours * 60);
    return JSON.stringify(this.takeFacts().filter(({ kind }) => kind === 'forecast'));
  }
}
