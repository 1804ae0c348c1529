import type { Cover } from '../../../../shared/config/trays.js';
import type { AlarmKind, AlarmState } from '../../../../shared/facts/alarm.js';
import type { CommandName } from '../../../../shared/wire/command.js';

/** A name that nothing has, and the one that was probably meant. */
export interface UnknownName {
  readonly name: string;
  readonly meant?: string | undefined;
}

/** A step of a tray's life that was told, as its answer says it. */
export type ToldStep =
  | {
      readonly do: 'new-tray';
      readonly bench: string;
      readonly blockCount: number;
      readonly blockSideMm: number;
    }
  | { readonly do: 'cover'; readonly cover: Cover }
  | { readonly do: 'move'; readonly bench: string }
  | { readonly do: 'pot-on'; readonly toTray: string }
  | { readonly do: 'looked'; readonly level: 1 | 2 | 3 | 4 | 5 }
  | { readonly do: 'weighed'; readonly grams: number }
  | { readonly do: 'attach'; readonly probe: string }
  | { readonly do: 'sown' | 'germinated' | 'ready-for-water' | 'end' };

/** What is known of the trays for an absence: ids of each. */
export interface AbsenceOutlook {
  /** Will not last until the return, at the configured risk. */
  readonly mayNotLast: readonly string[];
  readonly withoutForecast: readonly string[];
  /** Should last by what such blocks usually do; nothing measures there. */
  readonly guessed: readonly string[];
  readonly lasting: readonly string[];
}

/** What a command was about. */
export interface ToldAbout {
  readonly command: CommandName;
  readonly tray?: string | undefined;
  readonly alarm?: { readonly kind: AlarmKind | undefined; readonly of: string } | undefined;
}

/** Where a watering was told of a tray that does not fit what else was told. */
export interface Misfit {
  readonly tray: string;
  readonly bench?: { readonly stands: string; readonly told: string } | undefined;
  readonly sideMm?: { readonly stands: number; readonly told: number } | undefined;
}

/** Answers to what people tell: that it was done, or why not and what to do. */
export interface AnswerSentences {
  readonly noted: () => string;
  readonly toldAlready: (ref: string) => string;
  /** @param remedy what else to do than look for a slip in its name */
  readonly noSuchTray: (unknown: UnknownName, remedy: 'enter' | 'leave-out' | 'pot-on') => string;
  readonly noSuchBench: (unknown: UnknownName, benches: readonly string[]) => string;
  readonly noSuchProbe: (probe: string, probes: readonly string[]) => string;

  readonly trayEnded: (tray: string) => string;
  readonly trayExists: (tray: string) => string;
  readonly sameTray: (tray: string) => string;
  readonly smallerBlock: (toTray: string, tray: string, sideMm: number | undefined) => string;
  readonly smallerBlockGiven: (sideMm: number, tray: string, standingSideMm: number) => string;
  readonly blockCountMissing: (sideMm: number) => string;
  readonly blockSizeMissing: (toTray: string) => string;
  readonly standsOtherwise: (tray: string, blockCount: number, sideMm: number, bench: string) => string;
  readonly refillAboveCapacity: () => string;
  readonly impossibleWeight: (
    tray: string,
    grams: number,
    blocks: { readonly count: number; readonly sideMm: number },
    limit: { readonly leastG: number } | { readonly mostG: number },
  ) => string;
  readonly trayStep: (tray: string, step: ToldStep) => string;
  readonly traysStanding: (perBench: readonly { readonly bench: string; readonly count: number }[]) => string;

  readonly whichTrays: () => string;
  readonly misfit: (misfit: Misfit) => string;
  readonly noTrayStands: (bench: string | undefined) => string;
  readonly noTrayOfSize: (sideMm: number, bench: string | undefined, sidesMm: readonly number[]) => string;
  readonly doseTooLarge: (ml: number, tray: string, blocksMl: number) => string;
  readonly watered: (told: {
    readonly atMs: number;
    readonly nowMs: number;
    readonly trays: readonly string[];
    readonly ml?: number | undefined;
    readonly before: readonly string[];
    readonly again: readonly string[];
    readonly leftOut: readonly string[];
  }) => string;
  readonly noRound: () => string;
  readonly notInNotice: (
    roundMs: number,
    nowMs: number,
    stray: readonly string[],
    listed: readonly string[],
  ) => string;
  readonly roundDoneDry: (roundMs: number, nowMs: number, leftOut: readonly string[]) => string;

  readonly timeToCome: (atMs: number, nowMs: number) => string;
  readonly tooLongAgo: (atMs: number, nowMs: number, command: CommandName, latestH: number) => string;
  readonly untilInPast: (untilMs: number, nowMs: number) => string;
  readonly absenceTooLong: (days: number) => string;
  readonly shelvedTooLong: (days: number) => string;
  readonly away: (untilMs: number, nowMs: number, outlook: AbsenceOutlook) => string;
  readonly notAway: () => string;
  readonly back: () => string;
  /** What the journal keeps of both; it is read long after. */
  readonly awayNote: (untilMs: number) => string;
  readonly backNote: () => string;

  readonly seen: (alarms: readonly { readonly kind: AlarmKind; readonly of: string }[]) => string;
  readonly noneToSee: (kind: AlarmKind | undefined, of: string | undefined) => string;
  readonly noSuchAlarm: (kind: AlarmKind, of: string) => string;
  readonly setAsideAlready: (kind: AlarmKind, of: string, state: AlarmState) => string;
  readonly setAside: (kind: AlarmKind, of: string, untilMs: number | undefined, nowMs: number) => string;
  readonly notSetAside: (kind: AlarmKind, of: string, wanted: 'shelved' | 'out-of-service') => string;
  readonly watchedAgain: (kind: AlarmKind, of: string) => string;

  readonly testCallGoes: (ways: readonly string[]) => string;
  readonly testSeen: (way: string | undefined) => string;
  readonly noSuchWay: (way: string, ways: readonly string[]) => string;
  readonly noTest: () => string;

  readonly seenStays: () => string;
  readonly nothingToUndo: (ref: string) => string;
  readonly restsOnIt: (later: ToldAbout) => string;
  readonly undone: (command: CommandName, trays: readonly string[]) => string;
  readonly undoneAlarm: (kind: AlarmKind, of: string) => string;
  readonly undoneAbsence: (awayUntilMs: number | undefined, nowMs: number) => string;
}
