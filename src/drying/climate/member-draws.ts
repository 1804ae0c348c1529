import { FORECAST_HORIZON_H } from '../../../shared/facts/forecast.js';
import { stratifiedNormals, uniformStream } from '../../numbers/normal-draws.js';

export const MEMBER_COUNT = 240;
/** The member after the last: what is believed without its spread, under the weather without its own. */
export const MIDDLE_MEMBER = MEMBER_COUNT;
export const PATH_COUNT = MEMBER_COUNT + 1;
export const HORIZON_H = FORECAST_HORIZON_H;
/** Independent normals that a member needs for the tray's state. */
export const STATE_DRAWS = 6;

/** Spread of weather: a part that lasts about ten hours and one that lasts some days (shares of variance: judgement). */
const SHORT_MEMORY_H = 10;
const LONG_MEMORY_H = 40;
const LONG_SHARE = 0.4;
/** Correlation of what dry air and sun do differently from the usual. */
const AIR_SUN_CORRELATION = 0.6;

/** Random numbers of the ensemble, drawn once: every forecast uses the same, so forecasts change only with belief. */
export interface MemberDraws {
  /** `STATE_DRAWS` columns of MEMBER_COUNT standard normals. */
  readonly state: readonly Float64Array[];
  /** Member-major paths, MEMBER_COUNT × HORIZON_H, starting near 0 and growing to unit variance. */
  readonly air: Float64Array;
  readonly sun: Float64Array;
}

function weatherPaths(uniform: () => number): Float64Array {
  const paths = new Float64Array(MEMBER_COUNT * HORIZON_H);
  const parts = [
    { memoryH: SHORT_MEMORY_H, share: 1 - LONG_SHARE },
    { memoryH: LONG_MEMORY_H, share: LONG_SHARE },
  ];
  for (const { memoryH, share } of parts) {
    const keep = Math.exp(-1 / memoryH);
    const step = Math.sqrt((1 - keep * keep) * share);
    const now = new Float64Array(MEMBER_COUNT);
    for (let hour = 0; hour < HORIZON_H; hour++) {
      const fresh = stratifiedNormals(MEMBER_COUNT, uniform);
      for (let m = 0; m < MEMBER_COUNT; m++) {
        const next = keep * (now[m] as number) + step * (fresh[m] as number);
        now[m] = next;
        const at = m * HORIZON_H + hour;
        paths[at] = (paths[at] as number) + next;
      }
    }
  }
  return paths;
}

const drawn = new Map<number, MemberDraws>();

/** The draws of a seed; never changed, and made once: they cost 30 ms, and a farm is made anew with every checkpoint. */
export function drawMembers(seed: number): MemberDraws {
  const known = drawn.get(seed);
  if (known !== undefined) return known;
  const draws = newDraws(seed);
  drawn.set(seed, draws);
  return draws;
}

function newDraws(seed: number): MemberDraws {
  const uniform = uniformStream(seed);
  const state = Array.from({ length: STATE_DRAWS }, () => stratifiedNormals(MEMBER_COUNT, uniform));
  const air = weatherPaths(uniform);
  const own = weatherPaths(uniform);
  const rest = Math.sqrt(1 - AIR_SUN_CORRELATION ** 2);
  const sun = own.map((value, i) => AIR_SUN_CORRELATION * (air[i] as number) + rest * value);
  return { state, air, sun };
}
