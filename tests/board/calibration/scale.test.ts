import { describe, expect, it } from 'vitest';
import {
  type ScalePoint,
  type ScaleSession,
  scaleResult,
  takeScalePoint,
} from '../../../src/board/calibration/scale-session.js';

const start: ScaleSession = { probe: 'scale-t1', points: [] };
const empty: ScalePoint = { step: 'empty', at: '2026-04-18T07:00:00Z', counts: -12_000, loadG: 0 };
const loaded: ScalePoint = { step: 'loaded', at: '2026-04-18T07:05:00Z', counts: 618_000, loadG: 1500 };

function taken(session: ScaleSession, point: ScalePoint): ScaleSession {
  const result = takeScalePoint(session, point, (g) => `${g} g`);
  if (result.kind === 'refused') throw new Error(result.reason);
  return result.session;
}

function refusal(session: ScaleSession, point: ScalePoint): string {
  const result = takeScalePoint(session, point, (g) => `${g} g`);
  return result.kind === 'refused' ? result.reason : 'taken';
}

describe('calibration of a tray scale', () => {
  it('gives zero and span from an empty scale and one weight', () => {
    const session = [empty, loaded].reduce(taken, start);
    expect(scaleResult(session)).toEqual({ zeroCounts: -12_000, countsPerG: 420 });
    expect(scaleResult(taken(start, empty))).toBeUndefined();
  });

  it('gives creep from the same weight later, carried on to the long run', () => {
    const later: ScalePoint = { ...loaded, step: 'later', at: '2026-04-18T07:35:00Z', counts: 618_315 };
    const creep = scaleResult([empty, loaded, later].reduce(taken, start))?.creep;
    // 315 of 630,000 counts in 30 minutes, which at 20 minutes' time constant is 78 % of the whole.
    expect(creep?.share).toBeCloseTo(0.0005 / 0.7769, 6);
  });

  it('refuses a light weight, a stuck plate, haste, and a scale that was touched', () => {
    const one = taken(start, empty);
    expect(refusal(start, loaded)).toContain('empty scale first');
    expect(refusal(one, { ...loaded, loadG: 50 })).toContain('200 g or more');
    expect(refusal(one, { ...loaded, counts: -11_500 })).toContain('can the plate move');
    const two = taken(one, loaded);
    expect(refusal(two, { ...loaded, step: 'later', at: '2026-04-18T07:10:00Z' })).toContain(
      'wait 15 minutes more',
    );
    expect(refusal(two, { ...loaded, step: 'later', at: '2026-04-18T08:00:00Z', counts: 700_000 })).toContain(
      'not creep',
    );
  });
});
