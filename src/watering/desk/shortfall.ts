/**
 * The doubt that a tray holds less water than the model says: dry blocks shed what they are given, and a grower who waters what
 * seems full has seen something. It lives beside the model's state, dries with it, and is proved or disproved by what people do
 * at the bench.
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

/** What is known of a pour: mL that stayed, where a person measured them, and mL that a probe shows when it is first sure of a rise. */
export interface PourAmount {
  readonly toldMl?: number | undefined;
  readonly shownMl?: number | undefined;
}

/** A tray's memory as far as it concerns doubts. */
export interface Doubted {
  held?: HeldWater | undefined;
  shortfall?: Shortfall | undefined;
}

/**
 * Chance that a tray which was dry (and long enough: the square of the chance that it was dry at all) took up only this share of what it lacked: dry peat sheds water and wets again slowly and
 * incompletely (growers' notes; no published figures for blocks). Chosen on the trade-off curve, DEVELOPERS.md.
 */
const SHED_PROBABILITY = 0.65;
const SHED_TAKEN_SHARE = 0.3;
/** Down to this moisture index medium takes all it is given (judgement). */
const TAKES_ALL_FROM_INDEX = 0.35;
/**
 * Blocks that shed drink slowly from the start: how the doubt fades with the share of the missing water that a probe has shown when it
 * is first sure of a rise, some 25 min after the pour. On the virtual bench (464 pours into dry trays) 57 of 100 had shed it where that was
 * less than an eighth, 23 up to a quarter, 8 beyond.
 */
const DRINKS_WELL_SHARE = 0.2;
/** Share that a doubted tray takes up which people keep watering unasked, until it has been wetter than this (judgement). */
const GIVEN_AGAIN_SHARE = 0.2;
const WET_THROUGH_INDEX = 0.7;
/** Chance that the model is wrong about a tray though nothing speaks for it, and how dry the tray would be then. */
const WRONG_UNAWARES = 0.04;
const WRONG_INDEX = 0;
/** Doubts smaller than these are not worth keeping: probability, and index below the model's. */
const LEAST_PROBABILITY = 0.03;
const LEAST_GAP = 0.1;
/** Nothing dries faster than this between two decisions, moisture index; a sudden fall is the model thinking again. */
const MOST_FALL = 0.05;
const DRIEST_INDEX = -0.7;
/**
 * Growers' eyes: chance that somebody who walks by waters a tray of this moisture index. Nearly all dry ones, few full ones unless
 * asked to, even odds in between (judgement; how one grower differs from another matters little to the odds).
 */
const WATERS_UNASKED = 0.06;
const WATERS_DRY = 0.96;
const EVEN_ODDS_INDEX = 0.4;
const EYE_WIDTH = 0.1;

/**
 * People pour more than a tray has room for now and then; how soon that gets rarer, in fillings too many. A measured pour that the
 * model's tray has no room for, at these odds, is reason for a doubt even where the house had asked for it. Judgement.
 */
const POURS_TOO_MUCH = 0.15;
const TOO_MUCH_FADES = 0.15;
const NO_ROOM = 0.5;
/** Chance that a probe shows blocks wet through where the tray is short of water, and where it is not (judgement). */
const SHOWN_THOUGH_SHORT = 0.3;
const SHOWN_WHEN_FILLED = 0.9;

function waters(index: number, whatever: number): number {
  return (
    whatever + Math.max(0, WATERS_DRY - whatever) / (1 + Math.exp((index - EVEN_ODDS_INDEX) / EYE_WIDTH))
  );
}

/** Bayes: how likely the shortfall is after something that was this likely with it and without. */
function afterSeeing(prior: number, withIt: number, without: number): number {
  return (prior * withIt) / (prior * withIt + (1 - prior) * without);
}

/** An amount as a share of what lies between refill point and container capacity; undefined where either is not known. */
function fillings(held: HeldWater, ml: number | undefined): number | undefined {
  const { spanMl } = held;
  return ml === undefined || spanMl === undefined || spanMl <= 0 ? undefined : ml / spanMl;
}

/** How likely a pour of this many fillings stayed in a tray of this moisture index, as against one that had room for it. */
function hadRoom(poured: number | undefined, index: number): number {
  if (poured === undefined) return 1;
  const tooMuch = Math.max(0, index + poured - 1);
  return POURS_TOO_MUCH + (1 - POURS_TOO_MUCH) * Math.exp(-tooMuch / TOO_MUCH_FADES);
}

/** What is left of the doubt that dry blocks shed when a probe shows how much they have taken up at first. */
function shedsStill(held: HeldWater, shownMl: number | undefined): number {
  const shown = fillings(held, shownMl);
  if (shown === undefined || held.index >= 1) return 1;
  const drunkShare = shown / (1 - held.index);
  return Math.exp(-((drunkShare / DRINKS_WELL_SHARE) ** 2));
}

function worthKeeping(shortfall: Shortfall, modelIndex: number): Shortfall | undefined {
  const { probability, index } = shortfall;
  return probability < LEAST_PROBABILITY || index > modelIndex - LEAST_GAP ? undefined : shortfall;
}

/** At each decision: the doubted tray dries as the model's does. */
export function carryShortfall(memory: Doubted, held: HeldWater): void {
  const { held: before, shortfall } = memory;
  memory.held = held;
  if (shortfall === undefined || before === undefined) return;
  const fall = Math.min(MOST_FALL, Math.max(0, before.index - held.index));
  const index = Math.max(DRIEST_INDEX, shortfall.index - fall);
  memory.shortfall = worthKeeping({ probability: shortfall.probability, index }, held.index);
}

/** Nobody had asked, and a tray that was doubted already gets water again: it has not taken what it was given before. */
function givenAgain(asked: number | undefined, shortfall: Shortfall | undefined): boolean {
  return asked === undefined && shortfall !== undefined && shortfall.index < WET_THROUGH_INDEX;
}

/**
 * A watering. What was dry perhaps shed it; and who waters what the model holds for full, or pours more than that has room for, has
 * perhaps seen that it is not. `asked`: the chance that this grower waters what the house asks for, where it had; undefined where
 * it had not.
 */
export function doubtPour(memory: Doubted, asked: number | undefined, amount: PourAmount = {}): void {
  const { held, shortfall } = memory;
  if (held === undefined) return;
  const index = Math.min(held.index, shortfall?.index ?? WRONG_INDEX);
  const whatever = asked ?? WATERS_UNASKED;
  const told = fillings(held, amount.toldMl);
  const isStrange = asked === undefined || hadRoom(told, held.index) < NO_ROOM;
  const prior = shortfall?.probability ?? (isStrange ? WRONG_UNAWARES : 0);
  const likely = (at: number): number => waters(at, whatever) * hadRoom(told, at);
  const seen = afterSeeing(prior, likely(index), likely(held.index));
  const probability = Math.max(seen, SHED_PROBABILITY * held.dry ** 2 * shedsStill(held, amount.shownMl));
  const share = givenAgain(asked, shortfall)
    ? GIVEN_AGAIN_SHARE
    : index < TAKES_ALL_FROM_INDEX
      ? SHED_TAKEN_SHARE
      : 1;
  memory.shortfall =
    share >= 1 || probability < LEAST_PROBABILITY
      ? undefined
      : { probability, index: index + share * (1 - index) };
}

/** A probe has shown blocks that a pour has wet through: the tray hardly shed it. */
export function shownFilled(memory: Doubted): void {
  const { shortfall, held } = memory;
  if (shortfall === undefined || held === undefined) return;
  const probability = afterSeeing(shortfall.probability, SHOWN_THOUGH_SHORT, SHOWN_WHEN_FILLED);
  memory.shortfall = worthKeeping({ ...shortfall, probability }, held.index);
}

/** A round at which the tray got no water, as far as that would be known (`told`: how surely): few pass a dry tray by. */
export function passedBy(memory: Doubted, told: number): void {
  const { held, shortfall } = memory;
  if (shortfall === undefined || held === undefined) return;
  const passes = (index: number): number => 1 - told * waters(index, WATERS_UNASKED);
  const probability = afterSeeing(shortfall.probability, passes(shortfall.index), passes(held.index));
  memory.shortfall = worthKeeping({ ...shortfall, probability }, held.index);
}
