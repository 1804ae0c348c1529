import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { vpdKPa } from '../../src/drying/physics/air/psychrometrics.js';
import { blockPriors } from '../../src/drying/physics/block-priors.js';
import { driestTenthPotential, driestTenthRateRatio } from '../../src/drying/physics/driest-tenth.js';
import {
  dryBy,
  dryingRateFactor,
  dryingSlopes,
  fallingStage,
  potentialDryingPerH,
  potentialDryingUntil,
} from '../../src/drying/physics/drying-law.js';
import { DAYS_TO_TRANSPLANT_SIZE, leafShare } from '../../src/drying/physics/growth.js';
import { trayExchange } from '../../src/drying/physics/tray-exchange.js';
import { blockPitchMm, edgeShare, trayVolumeMl } from '../../src/drying/physics/tray-geometry.js';

const sideMm = fc.double({ min: 10, max: 300, noNaN: true });
const airSpeed = fc.double({ min: 0, max: 2, noNaN: true });

function usualTray(blockSideMm: number) {
  const count = Math.floor(0.1626e6 / (blockSideMm + 6) ** 2);
  return { blockSideMm, blockCount: Math.max(1, count) };
}

/** Potential drying of an open tray of bare blocks. */
function bare(
  exchange: ReturnType<typeof trayExchange>,
  temperatureC: number,
  deficitKPa: number,
  solarWPerM2: number,
): number {
  return potentialDryingPerH(
    { exchange, cover: 'none', leafShare: 0 },
    { temperatureC, vpdKPa: deficitKPa, solarWPerM2 },
  );
}

describe('tray exchange', () => {
  it('trayExchange() is finite and positive for any block of 10 to 300 mm and any air speed', () => {
    fc.assert(
      fc.property(sideMm, airSpeed, fc.integer({ min: 1, max: 2000 }), (side, speed, blockCount) => {
        const exchange = trayExchange({ blockSideMm: side, blockCount }, speed);
        expect(exchange.vapourConductanceMPerS).toBeGreaterThan(0);
        expect(exchange.heatTransferWPerM2K).toBeGreaterThan(5);
        expect(Number.isFinite(exchange.mediumDepthMm)).toBe(true);
      }),
    );
  });

  it('potentialDryingPerH() rises with deficit, sun and air speed', () => {
    fc.assert(
      fc.property(sideMm, fc.double({ min: 0.05, max: 1, noNaN: true }), (side, speed) => {
        const tray = usualTray(side);
        const base = bare(trayExchange(tray, speed), 20, 1, 100);
        expect(bare(trayExchange(tray, speed), 20, 1.1, 100)).toBeGreaterThan(base);
        expect(bare(trayExchange(tray, speed), 20, 1, 110)).toBeGreaterThan(base);
        expect(bare(trayExchange(tray, speed * 1.2), 20, 1, 0)).toBeGreaterThan(
          bare(trayExchange(tray, speed), 20, 1, 0),
        );
      }),
    );
  });

  it('a larger block in a full tray always lasts longer', () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 250, noNaN: true }), (side) => {
        const rate = (mm: number) => bare(trayExchange(usualTray(mm), 0.1), 22, vpdKPa(22, 60), 80);
        expect(rate(side * 1.15)).toBeLessThan(rate(side));
      }),
    );
  });

  it('the usual trays keep the size ratios of mass transfer: 1 : 2.0-2.8 : 2.7-4.3', () => {
    const rate = (blockSideMm: number, blockCount: number) =>
      bare(trayExchange({ blockSideMm, blockCount }, 0.1), 20, vpdKPa(20, 60), 100);
    const middle = rate(19, 280) / rate(38, 72);
    const large = rate(19, 280) / rate(51, 48);
    expect(middle).toBeGreaterThan(2);
    expect(middle).toBeLessThan(2.8);
    expect(large).toBeGreaterThan(2.7);
    expect(large).toBeLessThan(4.3);
  });
});

describe('drying law', () => {
  it('dryBy() in many steps equals dryBy() in one', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.7, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 0.6, noNaN: true }),
        fc.integer({ min: 1, max: 40 }),
        (start, potential, knee, steps) => {
          let stepped = start;
          const stage = { knee, dryEnd: 0.08 };
          for (let i = 0; i < steps; i++) stepped = dryBy(stepped, potential / steps, stage);
          expect(stepped).toBeCloseTo(dryBy(start, potential, stage), 10);
        },
      ),
    );
  });

  it('potentialDryingUntil() is the inverse of dryBy()', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 0.7, noNaN: true }),
        fc.double({ min: 0.1, max: 0.29, noNaN: true }),
        fc.double({ min: 0.09, max: 0.6, noNaN: true }),
        (start, target, knee) => {
          const stage = { knee, dryEnd: 0.08 };
          const potential = potentialDryingUntil(start, target, stage);
          expect(dryBy(start, potential, stage)).toBeCloseTo(target, 9);
        },
      ),
    );
  });

  it('dryingRateFactor() stays within 0 and 1 and never rises as the block dries', () => {
    const any = fc.double({ min: -0.2, max: 1.2, noNaN: true });
    fc.assert(
      fc.property(any, any, any, any, (a, b, knee, dryEnd) => {
        const wetter = dryingRateFactor(Math.max(a, b), { knee, dryEnd });
        const drier = dryingRateFactor(Math.min(a, b), { knee, dryEnd });
        expect(drier).toBeGreaterThanOrEqual(0);
        expect(wetter).toBeLessThanOrEqual(1);
        expect(drier).toBeLessThanOrEqual(wetter);
      }),
    );
  });
});

describe('slopes of the drying law', () => {
  it('dryingSlopes() are the derivatives of dryBy(), through the knee too', () => {
    const step = 1e-6;
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 0.7, noNaN: true }),
        fc.double({ min: 0.001, max: 0.6, noNaN: true }),
        fc.double({ min: 0.25, max: 0.6, noNaN: true }),
        (start, potential, knee) => {
          const dry = (by: { start?: number; potential?: number; knee?: number }): number =>
            dryBy(start + (by.start ?? 0), potential + (by.potential ?? 0), {
              knee: knee + (by.knee ?? 0),
              dryEnd: 0.08,
            });
          const after = dry({});
          fc.pre(Math.abs(start - knee) > 1e-4 && Math.abs(after - knee) > 1e-4);
          const slopes = dryingSlopes(start, after, potential, { knee, dryEnd: 0.08 });
          const by = (key: 'start' | 'potential' | 'knee'): number =>
            (dry({ [key]: step }) - dry({ [key]: -step })) / (2 * step);
          expect(slopes.perWaterContent).toBeCloseTo(by('start'), 5);
          expect(slopes.perPotential).toBeCloseTo(by('potential'), 5);
          expect(slopes.perKnee).toBeCloseTo(by('knee'), 5);
        },
      ),
    );
  });

  it('fallingStage() always leaves a stage of some length, however deep the knee is believed', () => {
    for (const kneeIndex of [-3, -0.9, -0.6, 0, 0.8]) {
      const { knee, dryEnd } = fallingStage(0.35, 0.65, kneeIndex);
      expect(knee - dryEnd).toBeGreaterThanOrEqual(0.09 - 1e-12);
    }
  });
});

describe('driest tenth', () => {
  it('dries faster than the mean block in every tray', () => {
    fc.assert(
      fc.property(sideMm, airSpeed, fc.integer({ min: 1, max: 2000 }), (side, speed, blockCount) => {
        const ratio = driestTenthRateRatio({ blockSideMm: side, blockCount }, speed);
        expect(ratio).toBeGreaterThan(1);
        expect(ratio).toBeLessThan(2);
      }),
    );
  });

  it('driestTenthPotential() leaves a block that has dried that much faster exactly at the refill point', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 0.5, noNaN: true }),
        fc.double({ min: 1.01, max: 1.8, noNaN: true }),
        fc.double({ min: 0.1, max: 0.6, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (refill, ratio, knee, share) => {
          const stage = { knee, dryEnd: 0.08 };
          const full = 0.65;
          const soFar = (share * potentialDryingUntil(full, refill, stage)) / ratio;
          const left = driestTenthPotential(dryBy(full, soFar, stage), refill, full, ratio, stage);
          expect(dryBy(full, ratio * (soFar + left), stage)).toBeCloseTo(refill, 9);
          expect(left).toBeLessThanOrEqual(potentialDryingUntil(dryBy(full, soFar, stage), refill, stage));
        },
      ),
    );
  });
});

describe('geometry, growth, priors', () => {
  it('the three usual trays have the pitches and volumes of the table', () => {
    expect(blockPitchMm({ blockSideMm: 19.05, blockCount: 280 }) - 19.05).toBeCloseTo(5, 0);
    expect(blockPitchMm({ blockSideMm: 38.1, blockCount: 72 }) - 38.1).toBeCloseTo(9.4, 0);
    expect(blockPitchMm({ blockSideMm: 50.8, blockCount: 48 }) - 50.8).toBeCloseTo(7.4, 0);
    expect(trayVolumeMl({ blockSideMm: 19.05, blockCount: 280 })).toBeCloseTo(1936, -1);
  });

  it('edgeShare() of 14 x 20 blocks is about a quarter and of a single row is everything', () => {
    expect(edgeShare(280)).toBeCloseTo(64 / 280, 1);
    expect(edgeShare(3)).toBe(1);
  });

  it('leafShare() is 0 before emergence and 1 from transplant size on, never falling', () => {
    expect(leafShare(undefined)).toBe(0);
    expect(leafShare(-3)).toBe(0);
    expect(leafShare(DAYS_TO_TRANSPLANT_SIZE)).toBeCloseTo(1, 12);
    expect(leafShare(400)).toBeCloseTo(1, 12);
    for (let day = 0; day < 40; day++) expect(leafShare(day + 1)).toBeGreaterThanOrEqual(leafShare(day));
  });

  it('the usual trays lose about 1.7 times as much at transplant size as at emergence, and by night hardly more', () => {
    const mild = { temperatureC: 20, vpdKPa: 0.94, solarWPerM2: 120 };
    for (const [blockSideMm, blockCount] of [
      [19.05, 280],
      [38.1, 72],
      [50.8, 48],
    ] as const) {
      const exchange = trayExchange({ blockSideMm, blockCount }, 0.12);
      const loss = (leaves: number, weather: typeof mild): number =>
        potentialDryingPerH({ exchange, cover: 'none', leafShare: leaves }, weather);
      expect(loss(1, mild) / loss(0, mild)).toBeGreaterThan(1.6);
      expect(loss(1, mild) / loss(0, mild)).toBeLessThan(1.8);
      const night = { ...mild, solarWPerM2: 0 };
      expect(loss(1, night) / loss(0, night)).toBeLessThan(1.2);
    }
  });

  it('blockPriors() leaves water between capacity and refill at every side', () => {
    for (let side = 10; side <= 300; side += 5) {
      const priors = blockPriors(side);
      expect(priors.containerCapacityM3PerM3.mean - priors.refillPointM3PerM3.mean).toBeGreaterThan(0.1);
    }
  });
});
