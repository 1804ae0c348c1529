import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { Miss } from './expert-scores.js';
import type { LevelScale } from './reading-course.js';

/** Where reading and model's water content stood, inside one dry-down. */
interface Stand {
  readonly atMs: number;
  readonly reading: number;
  readonly water: number;
}

/**
 * Evidence on what a calibrated reading is: the witness of a tray like those that the block model was made for, which errs by an
 * offset of its own, or the tray itself on ground that dries in its own way. Running sums, fading.
 */
export interface GroundEvidence {
  /** Over pairs some hours apart: the reading's change squared, and times what the model's water content did not follow of it. */
  changeSquared: number;
  unfollowed: number;
  /** Hours, and sums over them of |water − reading|, and of how far that and the reading stood from their two days' means. */
  hours: number;
  apart: number;
  apartSwing: number;
  readingSwing: number;
  /** Foretellings that came due, and the sums of their misses in log hours. */
  scored: number;
  missedByModel: number;
  missedByExperts: number;
  stands: Stand[];
}

export function newGroundEvidence(): GroundEvidence {
  return {
    changeSquared: 0,
    unfollowed: 0,
    hours: 0,
    apart: 0,
    apartSwing: 0,
    readingSwing: 0,
    scored: 0,
    missedByModel: 0,
    missedByExperts: 0,
    stands: [],
  };
}

const HALF_LIFE_H = 480;
const PAIRS_H = [6, 12] as const;
const SWING_H = 48;
const MOST_GAP_H = 8;
const MOST_MISS = 2;

/** What a usual witness on usual ground shows, and how much of it is taken for seen already (own and a second virtual bench). */
const USUAL = {
  changeSquared: 0.01,
  unfollowed: 0.0025,
  hours: 192,
  apart: 0.025,
  apartSwing: 0.012,
  readingSwing: 0.045,
  scored: 6,
  missed: 0.5,
} as const;

/** A dry-down begins, or readings cannot be compared with the ones before. */
export function breakStands(evidence: GroundEvidence): void {
  evidence.stands = [];
}

/** Notes a settled reading and the water content that the filter has after it. */
export function noteStand(evidence: GroundEvidence, stand: Stand, sinceH: number, gapH: number): void {
  const weight = Math.min(MOST_GAP_H, sinceH);
  const apart = stand.water - stand.reading;
  const { stands } = evidence;
  for (const backH of PAIRS_H) {
    const within = 0.6 * Math.max(1, gapH);
    const earlier = stands.find((one) => Math.abs((stand.atMs - one.atMs) / MS_PER_HOUR - backH) <= within);
    if (earlier === undefined) continue;
    const change = earlier.reading - stand.reading;
    const followed = earlier.water - stand.water;
    evidence.changeSquared += weight * change * change;
    evidence.unfollowed += weight * change * (change - followed);
  }
  const meanOf = (pick: (one: Stand) => number): number =>
    stands.length === 0 ? pick(stand) : stands.reduce((sum, one) => sum + pick(one), 0) / stands.length;
  evidence.hours += weight;
  evidence.apart += weight * Math.abs(apart);
  evidence.apartSwing += weight * Math.abs(apart - meanOf((one) => one.water - one.reading));
  evidence.readingSwing += weight * Math.abs(stand.reading - meanOf((one) => one.reading));
  stands.push(stand);
  while (stand.atMs - (stands[0] ?? stand).atMs > SWING_H * MS_PER_HOUR) stands.shift();
}

export function noteMisses(evidence: GroundEvidence, misses: readonly Miss[]): void {
  for (const miss of misses) {
    evidence.scored++;
    evidence.missedByModel += Math.min(MOST_MISS, miss.byModel);
    evidence.missedByExperts += Math.min(MOST_MISS, miss.byExperts);
  }
}

const FADING = [
  'changeSquared',
  'unfollowed',
  'hours',
  'apart',
  'apartSwing',
  'readingSwing',
  'scored',
  'missedByModel',
  'missedByExperts',
] as const;

/** Lets what was seen fade over `hours`: a change of medium, probe or season is followed. */
export function fadeEvidence(evidence: GroundEvidence, hours: number): void {
  const keeps = 2 ** (-Math.min(MOST_GAP_H, hours) / HALF_LIFE_H);
  for (const key of FADING) evidence[key] *= keeps;
}

/** A share of what neighbours have seen, as a beginning. */
export function inheritEvidence(
  evidence: GroundEvidence,
  from: readonly GroundEvidence[],
  share: number,
): void {
  for (const other of from) for (const key of FADING) evidence[key] += (share / from.length) * other[key];
}

/**
 * Log odds that the reading is the tray: a logistic regression on what tells strange ground (two recorded sets) from the two
 * virtual benches, each ground weighing the same; the start is moved so that home loses nothing to speak of (DEVELOPERS.md).
 */
const LOG_ODDS = {
  start: -11.5,
  gain: 4.2,
  clearGain: 12,
  unfollowed: 7.5,
  apart: 17.4,
  swing: 23.8,
  drift: -15,
} as const;
/** Beyond this the experts are better than they ever are at home by chance: log of the ratio of misses. */
const CLEAR_GAIN = 0.25;
/** Tops wander as steadily as this by chance. */
const CHANCE_DRIFT = 0.4;
const BOUNDS = { unfollowed: [-0.5, 1], apart: [0, 0.6], swing: [0, 0.7] } as const;
/** Before a dry-down was seen nobody knows the ground: the reading has this chance at least, fading by finished dry-downs. */
const UNKNOWN_GROUND = { chance: 0.25, dryDowns: 1.5 } as const;

const within = (value: number, [least, most]: readonly [number, number]): number =>
  Math.min(most, Math.max(least, value));

/**
 * Chance that on this ground the reading is the tray, 0 to 1. `drift`, see `steadyDrift`, looks like strange ground otherwise.
 * While the filter rejects what the probe reads (`isContradicted`) only ground that is known speaks for the probe: on unknown
 * ground it has more likely lost touch.
 */
export function readingIsTray(
  evidence: GroundEvidence,
  { span }: LevelScale,
  isContradicted: boolean,
  drift: number,
  finishedDryDowns: number,
): number {
  const hours = evidence.hours + USUAL.hours;
  const apart = (evidence.apart + USUAL.apart * USUAL.hours) / hours;
  const swing =
    (evidence.apartSwing + USUAL.apartSwing * USUAL.hours) /
    (evidence.readingSwing + USUAL.readingSwing * USUAL.hours);
  const unfollowed =
    (evidence.unfollowed + USUAL.unfollowed) / (evidence.changeSquared + USUAL.changeSquared);
  const usualMiss = USUAL.missed * USUAL.scored;
  const gain = Math.log((evidence.missedByModel + usualMiss) / (evidence.missedByExperts + usualMiss));
  const logOdds =
    LOG_ODDS.start +
    LOG_ODDS.gain * gain +
    LOG_ODDS.clearGain * Math.max(0, gain - CLEAR_GAIN) +
    LOG_ODDS.drift * Math.max(0, drift - CHANCE_DRIFT) +
    LOG_ODDS.unfollowed * within(unfollowed, BOUNDS.unfollowed) +
    LOG_ODDS.apart * within(apart / span, BOUNDS.apart) +
    LOG_ODDS.swing * within(swing, BOUNDS.swing);
  const unknown = isContradicted
    ? 0
    : UNKNOWN_GROUND.chance * Math.exp(-finishedDryDowns / UNKNOWN_GROUND.dryDowns);
  return Math.max(unknown, 1 / (1 + Math.exp(-logOdds)));
}
