import type { Forecast } from '../../../shared/facts/forecast.js';
import type { Flag, RawUnit } from '../../../shared/facts/reading.js';
import type { Status } from '../../../shared/facts/status.js';
import type { TrayEvent } from '../../../shared/facts/tray-life.js';
import type { Watering } from '../../../shared/facts/watering.js';
import type { KeptDryDown } from '../../drying/curves/kept-dry-down.js';
import type { DryDown } from '../../drying/model/farm-model.js';
import type { DeskEffect } from '../../watering/desk/watering-desk.js';
import type {
  ToldAlarm,
  ToldAnswer,
  ToldAsk,
  ToldCall,
  ToldNote,
  ToldNotice,
} from '../../watering/sentences/said/told.js';

/** A judged reading on its way to store and publisher. The hot path: epoch ms, no strings that need parsing. */
export interface JudgedReading {
  readonly probeId: string;
  readonly observedAtMs: number;
  readonly rawValue: number | undefined;
  readonly rawUnit: RawUnit;
  readonly waterContentM3PerM3: number | undefined;
  readonly flag: Flag;
  readonly flagReasons: readonly string[];
  readonly calibrationId: string | undefined;
}

/**
 * Everything the pipeline says. Adapters store and publish facts; the core only returns them. What is said to people is data in them
 * (`said`); whoever shows it makes the words (`watering/sentences/spoken.ts`).
 */
export type Fact =
  | { readonly kind: 'reading'; readonly reading: JudgedReading }
  | { readonly kind: 'forecast'; readonly forecast: Forecast }
  /** `ref`, here and below: of the command that told it, which an undo names. */
  | { readonly kind: 'alarm'; readonly transition: ToldAlarm; readonly ref?: string }
  | { readonly kind: 'call'; readonly call: ToldCall }
  | { readonly kind: 'round-notice'; readonly notice: ToldNotice }
  /** `undone` is set by the store, on what a later undo struck out. */
  | { readonly kind: 'watering'; readonly watering: Watering; readonly undone?: true; readonly ref?: string }
  | { readonly kind: 'tray-event'; readonly event: TrayEvent; readonly undone?: true; readonly ref?: string }
  | { readonly kind: 'tray-event-undone'; readonly event: TrayEvent }
  | { readonly kind: 'dry-down'; readonly dryDown: DryDown | KeptDryDown }
  | {
      readonly kind: 'probe-drift';
      readonly probeId: string;
      readonly atMs: number;
      readonly driftM3PerM3: number;
    }
  | ({ readonly kind: 'note'; readonly undone?: true; readonly ref?: string } & ToldNote)
  | { readonly kind: 'note-undone'; readonly note: ToldNote }
  | ({ readonly kind: 'ask'; readonly at: string } & ToldAsk)
  /** A test call, and somebody's word that it came: as the desk decided them. */
  | Extract<DeskEffect, { readonly kind: 'test-call' | 'test-seen' }>
  | { readonly kind: 'answer'; readonly answer: ToldAnswer }
  | { readonly kind: 'status'; readonly status: Status };

export type FactKind = Fact['kind'];
