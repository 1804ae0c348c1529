import { MS_PER_HOUR } from '../../../shared/base/time-units.js';
import type { ProbeState, ProbeTrace } from '../filter/probe-state.js';
import { clearTrace, findRise } from '../pours/rise-detector.js';

/** A pour that somebody told of says more of the sign than a jump that nobody explains. */
const TOLD_VOTE = 2;
const SEEN_VOTE = 1;
/** Votes that turn the sign, and the most that are kept for the usual one. */
const TURN_AT = -2;
const MOST_VOTES = 6;
/** Least change of a raw probe at a pour that counts as an answer, V. */
const LEAST_ANSWER_V = 0.06;
/** Against the usual sign only a jump this much larger than a pour must be counts. */
const CONTRARY_FACTOR = 2;

/** Counts one vote; true when the sign has turned: the probe must be started anew. */
function vote(probe: ProbeState, weight: number): boolean {
  probe.signVotes = Math.min(MOST_VOTES, probe.signVotes + weight);
  if (probe.signVotes > TURN_AT) return false;
  probe.drySign = probe.drySign === 1 ? -1 : 1;
  probe.signVotes = SEEN_VOTE;
  probe.started = false;
  return true;
}

/** Remembers what a raw probe read when somebody told of a pour. */
export function noteBeforePour(probe: ProbeState): void {
  probe.wetnessBeforePour = probe.trace.wetness[probe.trace.wetness.length - 1];
}

/** After a told pour has wicked: did the reading go the way that this probe is taken to go? */
export function signFromToldPour(probe: ProbeState, wetness: number): boolean {
  const before = probe.wetnessBeforePour;
  probe.wetnessBeforePour = undefined;
  if (before === undefined || Math.abs(wetness - before) < LEAST_ANSWER_V) return false;
  return vote(probe, wetness > before ? TOLD_VOTE : -TOLD_VOTE);
}

/** A pour seen in the usual direction speaks for the sign. */
export function signFromSeenPour(probe: ProbeState): void {
  vote(probe, SEEN_VOTE);
}

/** Three readings that took longer than this show drying, whichever way it goes, h. */
const SUDDEN_H = 1.25;

/** Blocks dry slowly: a sudden fall of wetness is either a pour seen upside down or a lost contact. */
export function signFromContraryJump(probe: ProbeState, unitsPerWater: number, stepH: number): boolean {
  const { atMs } = probe.trace;
  const third = atMs[atMs.length - 3];
  if (third === undefined || (atMs[atMs.length - 1] as number) - third > SUDDEN_H * MS_PER_HOUR) return false;
  const upsideDown: ProbeTrace = { ...probe.trace, wetness: probe.trace.wetness.map((value) => -value) };
  if (findRise(upsideDown, CONTRARY_FACTOR * unitsPerWater, stepH) === undefined) return false;
  clearTrace(probe.trace);
  return vote(probe, -SEEN_VOTE);
}

/** A tray that must have lost this much in some hours, m³/m³, tells the sign by which way its probe crept. */
const CREEP_LOSS_M3PERM3 = 0.02;
const CREEP_LEAST_H = 4;
/** Share of the expected change that counts as creeping. */
const CREEP_SHARE = 0.5;

/**
 * Without a pour a block only dries: which way has the reading crept since the anchor while the model dried the tray by
 * `driedM3PerM3`? Returns true when the sign has turned. The anchor is where the last question was answered.
 */
export function signFromDrying(
  probe: ProbeState,
  atMs: number,
  wetness: number,
  driedSinceM3PerM3: (sinceMs: number) => number,
  unitsPerWater: number,
): boolean {
  const anchor = probe.creepAnchor;
  if (anchor === undefined) {
    probe.creepAnchor = { atMs, wetness };
    return false;
  }
  if (atMs - anchor.atMs < CREEP_LEAST_H * MS_PER_HOUR) return false;
  const dried = driedSinceM3PerM3(anchor.atMs);
  if (dried < CREEP_LOSS_M3PERM3) return false;
  const crept = wetness - anchor.wetness;
  if (Math.abs(crept) < Math.max(CREEP_SHARE * dried * unitsPerWater, 6 * probe.trace.roughness))
    return false;
  const turned = vote(probe, crept < 0 ? SEEN_VOTE : -SEEN_VOTE);
  probe.creepAnchor = turned ? undefined : { atMs, wetness };
  return turned;
}

/** True once waterings or drying have shown which way a raw probe goes; before that the state does not rest on it. */
export function signIsKnown(probe: ProbeState): boolean {
  return probe.signVotes >= SEEN_VOTE;
}
