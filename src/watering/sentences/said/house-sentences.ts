import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { CommandName } from '../../../../shared/wire/command.js';

/** What our own mistake can keep from being done while nobody asks for it. */
export type Undertaking = 'decision' | 'round-notice' | 'forecasts' | 'reading';

/** A clock that was set, or a monitor that stood still; milliseconds. */
export interface SaidClockStep {
  readonly why: 'set-back' | 'set-forward' | 'stood-still';
  readonly shiftMs: number;
  readonly skippedMs: number;
}

/** How a board is. */
export type BoardState = 'connecting' | 'ready' | 'no-board' | 'wrong-firmware' | 'silent' | 'unplugged';

/** A part of the house that is not well, for the page. */
export interface SaidAilment {
  readonly kind: string;
  readonly source: string;
  /** Stable code of what is wrong. */
  readonly reason: string;
  /** What the part itself says and advises, in English, with what only it knows. */
  readonly ownSentence?: string | undefined;
}

/** What the house says of itself. */
export interface HouseSentences {
  readonly ailment: (ailment: SaidAilment) => string;
  /** What only the part that says it knows, in its own words. */
  readonly asItIs: (words: string) => string;
  /** @param finding what the line to it said, in the words of this machine */
  readonly board: (board: string, state: BoardState, finding: string) => string;
  readonly clockStep: (step: SaidClockStep) => string;
  readonly notDone: (what: Undertaking) => string;
  readonly notCarriedOut: (command: CommandName) => string;
  readonly eventNotCarriedOut: (event: TrayEvent['event'], tray: string) => string;
  readonly cutOff: (command: CommandName, tray: string | undefined, at: string) => string;
  /** Said after an answer that the disk did not take, and when it takes it again. */
  readonly notKeptYet: () => string;
  readonly keptAfterAll: () => string;
  /** The last will, and a monitor that ends as it should. */
  readonly goneWithoutWord: () => string;
  readonly stopped: () => string;
  /** @param when weekday and time; @param way by which it was held up: the broker, a webhook by its id, or a phone's push service */
  readonly late: (
    sentence: string,
    when: string,
    way: { readonly webhook?: string | undefined; readonly phone?: true | undefined },
  ) => string;
  readonly onlyTheStore: () => string;
  /** What a phone shows that is only tried. */
  readonly phoneTried: () => string;
}
