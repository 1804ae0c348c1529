import type { AlarmKind, AlarmState } from '../../../../shared/facts/alarm.js';
import type { PourPlan } from '../../../../shared/facts/round-notice.js';
import type { AnswerSentences } from './answer-sentences.js';
import type { HouseSentences } from './house-sentences.js';
import type { Said } from './said.js';

/** Reason of a call about trays that need water for different ones. */
export const SEVERAL_REASONS = 'several';

/** A tray in a sentence. */
export interface SaidTray {
  readonly id: string;
  readonly benchId: string;
  readonly blockSideMm: number;
  readonly crop?: string | undefined;
  /** Told to 10 mL; absent when no dose belongs in the sentence. */
  readonly doseMl?: number | undefined;
  readonly pourPlan?: PourPlan | undefined;
  /** When its driest tenth would be dry, middle and early end of the forecast; absent beyond the horizon. */
  readonly dryAtMs?: number | undefined;
  readonly earliestDryAtMs?: number | undefined;
  /** In a call: it has dry blocks now. */
  readonly isDry?: boolean | undefined;
  readonly perhapsWatered?: boolean | undefined;
}

/** What an alarm's own sentence says beside who it is about. */
export interface SaidNeed extends Pick<SaidTray, 'doseMl' | 'pourPlan' | 'dryAtMs' | 'earliestDryAtMs'> {
  readonly comingRoundMs?: number | undefined;
  readonly temperatureC?: number | undefined;
}

export interface SaidNotice {
  readonly nowMs: number;
  readonly roundMs: number;
  readonly due: readonly SaidTray[];
  readonly waiting: readonly { readonly trayId: string; readonly untilRoundMs: number }[];
  readonly awayUntilMs?: number | undefined;
  /** Nothing is due since there is nothing. */
  readonly isWithoutTrays?: boolean;
}

/** A part of the watchman in a sentence. */
export interface SaidPart {
  readonly kind: AlarmKind;
  readonly of: string;
  readonly reason: string;
  /** Since when its trouble has been noticed; absent: it has none now. */
  readonly sinceMs?: number | undefined;
  /** What the part says of itself and what to do, e.g. a board; and the same in words, made where it is said. */
  readonly own?: Said | undefined;
  readonly ownSentence?: string | undefined;
  /** What a probe watches: "tray t1", "bench south". */
  readonly watches?: string | undefined;
  /** Other parts with the same trouble. */
  readonly others?: readonly string[] | undefined;
}

/** True for alarms about the watchman's own parts. */
export function concernsWatchman(
  kind: AlarmKind,
): kind is 'probe' | 'board' | 'monitor' | 'store' | 'broker' {
  return kind === 'probe' || kind === 'board' || kind === 'monitor' || kind === 'store' || kind === 'broker';
}

export interface SaidCall {
  readonly nowMs: number;
  readonly kind: AlarmKind;
  /** Of all that is called; `SEVERAL_REASONS` where they differ. */
  readonly reason: string;
  readonly trays: readonly SaidTray[];
  /** Bench or source that it concerns. */
  readonly of: string;
  /** Other sources with the same trouble, called together. */
  readonly others: readonly string[];
  readonly again: boolean;
  readonly comingRoundMs: number;
  readonly temperatureC?: number | undefined;
  /** Of a part of the watchman. */
  readonly sinceMs?: number | undefined;
  readonly own?: Said | undefined;
  readonly ownSentence?: string | undefined;
  readonly watches?: string | undefined;
  /** Of a call after the quiet hours: everything that it sums up, the first being what the rest of this says. */
  readonly parts?: readonly SaidCall[] | undefined;
}

export interface SaidTransition {
  readonly nowMs: number;
  readonly kind: AlarmKind;
  readonly of: string;
  readonly state: AlarmState;
  readonly reason: string;
  /** Its condition holds now, also while it is set aside. */
  readonly holds: boolean;
  readonly by?: string | undefined;
  readonly untilMs?: number | undefined;
  /** The tray it is about, while it stands. */
  readonly tray?: SaidTray | undefined;
  readonly need?: SaidNeed | undefined;
  /** Of a part of the watchman, as in `SaidPart`. */
  readonly sinceMs?: number | undefined;
  readonly own?: Said | undefined;
  readonly ownSentence?: string | undefined;
  readonly watches?: string | undefined;
}

/** Were these trays watered at this round? */
export interface SaidAsk {
  readonly nowMs: number;
  readonly trayIds: readonly string[];
  readonly benchId: string;
  readonly roundMs: number;
}

/** A call that is only a test. */
export interface SaidTest {
  readonly farm: string;
  readonly way: string;
  /** A plain "seen" answers it. */
  readonly bareSeen: boolean;
}

/** Every sentence that the house says to people, in one language. Another language is another object of this type. */
export interface DeskSentences {
  readonly roundNotice: (notice: SaidNotice) => string;
  readonly call: (call: SaidCall) => string;
  readonly transition: (change: SaidTransition) => string;
  readonly testCall: (test: SaidTest) => string;
  readonly ask: (ask: SaidAsk) => string;
  /** Answers to what people tell. */
  readonly answers: AnswerSentences;
  /** What the house says of itself. */
  readonly house: HouseSentences;
}
