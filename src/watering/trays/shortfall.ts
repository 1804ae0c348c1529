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
/** Down to this moisture index medium takes all it is given; at the lower one it sheds. Judgement. */
const TAKES_ALL_FROM_INDEX = 0.35;
const SHEDS_BELOW_INDEX = 0.1;
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

function waters(index: number, whatever: number): number {
  return (
    whatever + Math.max(0, WATERS_DRY - whatever) / (1 + Math.exp((index - EVEN_ODDS_INDEX) / EYE_WIDTH))
  );
}

/** Bayes: how likely the shortfall is after something that was this likely with it and without. */
function afterSeeing(prior: number, withIt: number, without: number): number {
  return (prior * withIt) / (prior * withIt + (1 - prior) * without);
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

/** Share of the missing water that a tray at this index takes up, if it sheds as dry peat may. */
function takenShare(index: number): number {
  const willing = (index - SHEDS_BELOW_INDEX) / (TAKES_ALL_FROM_INDEX - SHEDS_BELOW_INDEX);
  return SHED_TAKEN_SHARE + (1 - SHED_TAKEN_SHARE) * Math.min(1, Math.max(0, willing));
}

/** Nobody had asked, and a tray that was doubted already gets water again: it has not taken what it was given before. */
function givenAgain(asked: number | undefined, shortfall: Shortfall | undefined): boolean {
  return asked === undefined && shortfall !== undefined && shortfall.index < WET_THROUGH_INDEX;
}

/**
 * A watering. What was dry perhaps shed it; and who waters what the model holds for full has perhaps seen that it is not.
 * `asked`: the chance that this grower waters what the house asks for, where it had; undefined where it had not.
 */
export function doubtPour(memory: Doubted, asked: number | undefined): void {
  const { held, shortfall } = memory;
  if (held === undefined) return;
  const index = Math.min(held.index, shortfall?.index ?? WRONG_INDEX);
  const prior = shortfall?.probability ?? (asked === undefined ? WRONG_UNAWARES : 0);
  const whatever = asked ?? WATERS_UNASKED;
  const seen = afterSeeing(prior, waters(index, whatever), waters(held.index, whatever));
  const probability = Math.max(seen, SHED_PROBABILITY * held.dry ** 2);
  const share = givenAgain(asked, shortfall) ? GIVEN_AGAIN_SHARE : takenShare(index);
  memory.shortfall =
    share >= 1 || probability < LEAST_PROBABILITY
      ? undefined
      : { probability, index: index + share * (1 - index) };
}

/** A round at which the tray got no water, as far as that would be known (`told`: how surely): few pass a dry tray by. */
export function passedBy(memory: Doubted, told: number): void {
  const { held, shortfall } = memory;
  if (shortfall === undefined || held === undefined) return;
  const passes = (index: number): number => 1 - told * waters(index, WATERS_UNASKED);
  const probability = afterSeeing(shortfall.probability, passes(shortfall.index), passes(held.index));
  memory.shortfall = worthKeeping({ ...shortfall, probability }, held.index);
}
