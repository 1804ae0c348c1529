/**
 * The doubt that a tray holds less water than the model says: dry blocks shed what they are given. It lives beside the model's state,
 * dries with it, and ends with the next watering, a look, a weighing, or a probe that shows the blocks wet through.
 */
export interface Shortfall {
  /** Chance that it is so, 0 to 1. */
  readonly probability: number;
  /** The tray's moisture index if it is so. */
  readonly index: number;
}

/** What the model said of a tray at the last decision: its moisture index, and the chance that its mean block was dry. */
export interface HeldWater {
  readonly index: number;
  readonly dry: number;
  /** Water between refill point and container capacity in all its blocks, mL; absent in states of earlier versions. */
  readonly spanMl?: number | undefined;
}

/** A tray's memory as far as it concerns doubts. */
export interface Doubted {
  held?: HeldWater | undefined;
  shortfall?: Shortfall | undefined;
}

/**
 * Chance that a tray which was dry (and long enough: the square of the chance that it was dry at all) took up only this share of what it lacked: dry peat sheds water and wets again slowly and
 * incompletely (growers' notes; no published figures for blocks). Chosen on the trade-off curve (`decisions/what-brought-it-there.md`).
 */
const SHED_PROBABILITY = 0.65;
const SHED_TAKEN_SHARE = 0.3;
/**
 * Blocks that shed drink slowly from the start: how the doubt fades with the share of the missing water that a probe has shown when it
 * is first sure of a rise, some 25 min after the pour. On the virtual bench (464 pours into dry trays) 57 of 100 had shed it where that was
 * less than an eighth, 23 up to a quarter, 8 beyond.
 */
const DRINKS_WELL_SHARE = 0.2;

/** Doubts smaller than these are not worth keeping: probability, and index below the model's. Without them a call and a half a day more. */
const LEAST_PROBABILITY = 0.03;
const LEAST_GAP = 0.1;

/** What is left of the doubt that dry blocks shed when a probe shows how much, mL, they have taken up at first. */
function shedsStill({ index, spanMl = 0 }: HeldWater, shownMl: number | undefined): number {
  if (shownMl === undefined || spanMl <= 0 || index >= 1) return 1;
  const drunkShare = shownMl / spanMl / (1 - index);
  return Math.exp(-((drunkShare / DRINKS_WELL_SHARE) ** 2));
}

/** At each decision: the doubted tray dries as the model's does, until the model's is hardly wetter. */
export function carryShortfall(memory: Doubted, held: HeldWater): void {
  const { held: before, shortfall } = memory;
  memory.held = held;
  if (shortfall === undefined || before === undefined) return;
  const index = shortfall.index - Math.max(0, before.index - held.index);
  memory.shortfall = index <= held.index - LEAST_GAP ? { ...shortfall, index } : undefined;
}

/** A watering: what was dry has perhaps shed it. `shownMl`: what a probe shows of it when it is first sure of a rise. */
export function doubtPour(memory: Doubted, shownMl?: number): void {
  const { held } = memory;
  if (held === undefined) return;
  const probability = SHED_PROBABILITY * held.dry ** 2 * shedsStill(held, shownMl);
  const before = Math.min(0, held.index);
  memory.shortfall =
    probability >= LEAST_PROBABILITY
      ? { probability, index: before + SHED_TAKEN_SHARE * (1 - before) }
      : undefined;
}
