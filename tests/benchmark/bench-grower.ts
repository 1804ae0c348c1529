import type { RandomSource } from '../../src/worlds/demo/virtual-bench/air/random-source.js';

/** How a grower goes about it; drawn per scenario. */
export interface GrowerPlan {
  /** Hours of day, farm's clock. */
  readonly roundHours: readonly number[];
  readonly latenessH: number;
  /** Chance that a round is missed altogether. */
  readonly forgets: number;
  /** Waters a tray that looks at or below this moisture index (0 at refill, 1 at capacity), and how well the eye judges. */
  readonly watersBelowIndex: number;
  readonly eyeSd: number;
  /** Waters regardless, this often per tray and round. */
  readonly whim: number;
  /** Share of waterings that fill (and tip out); the others pour by measure and stop short. */
  readonly fills: number;
  readonly partialShare: readonly [number, number];
  /** Writes down: chance, and how far off the note's time is. */
  readonly logs: number;
  readonly noteErrorH: number;
  /** Writes how a tray looks (five-step scale), chance per tray and round. */
  readonly looks: number;
}

export interface TrayLook {
  readonly trayId: string;
  readonly blockSideMm: number;
  /** True moisture index, 0 at refill, 1 at capacity. */
  readonly moistureIndex: number;
  readonly missingMl: number;
}

export interface Pour {
  readonly trayId: string;
  readonly ml: number;
  /** Undefined: nothing is tipped out. */
  readonly tipOutAfterH: number | undefined;
  readonly logged: boolean;
  /** What the note says: mL, or undefined for "filled". */
  readonly notedMl: number | undefined;
  readonly noteErrorMs: number;
}

export interface NotedLook {
  readonly trayId: string;
  readonly level: 1 | 2 | 3 | 4 | 5;
}

/** One round at the benches: what is poured, and what is written down. */
export interface RoundWalk {
  readonly pours: readonly Pour[];
  readonly looks: readonly NotedLook[];
}

/** Level on the five-step scale for a moisture index as seen. */
function lookLevel(index: number): NotedLook['level'] {
  if (index < 0.02) return 1;
  if (index < 0.25) return 2;
  if (index < 0.65) return 3;
  return index < 1.02 ? 4 : 5;
}

/** A pour as this grower does it, for a tray that lacks `missingMl`. */
function pourAsUsual(plan: GrowerPlan, look: TrayLook, random: RandomSource): Pour {
  const fills = random.chance(plan.fills);
  const share = fills ? random.between(1.3, 1.8) : random.between(...plan.partialShare);
  const ml = Math.max(20, look.missingMl * share);
  const logged = random.chance(plan.logs);
  return {
    trayId: look.trayId,
    ml,
    // who fills waits until the blocks are dark to the top: longer for larger ones
    tipOutAfterH: fills ? random.between(0.9, 2) * (look.blockSideMm / 30) ** 0.6 : undefined,
    logged,
    notedMl: fills ? undefined : Math.max(10, Math.round(ml / 10) * 10),
    noteErrorMs: Math.round(random.normal(0, plan.noteErrorH) * 3_600_000),
  };
}

/** Walks the benches once: looks at each tray and decides by habit. */
export function walkRound(plan: GrowerPlan, looks: readonly TrayLook[], random: RandomSource): RoundWalk {
  const pours: Pour[] = [];
  const noted: NotedLook[] = [];
  for (const look of looks) {
    const seen = look.moistureIndex + random.normal(0, plan.eyeSd);
    if (random.chance(plan.looks)) noted.push({ trayId: look.trayId, level: lookLevel(seen) });
    if (seen < plan.watersBelowIndex || random.chance(plan.whim)) pours.push(pourAsUsual(plan, look, random));
  }
  return { pours, looks: noted };
}

/** When the next round starts for this grower, epoch ms; lateness included, forgotten rounds skipped. */
export function nextRoundMs(
  plan: GrowerPlan,
  afterMs: number,
  utcOffsetMin: number,
  random: RandomSource,
): number {
  const offsetMs = utcOffsetMin * 60_000;
  let dayMs = Math.floor((afterMs + offsetMs) / 86_400_000) * 86_400_000 - offsetMs;
  for (;;) {
    for (const hour of plan.roundHours) {
      const at = dayMs + hour * 3_600_000;
      if (at <= afterMs || random.chance(plan.forgets)) continue;
      return at + Math.round(Math.abs(random.normal(0, plan.latenessH)) * 3_600_000);
    }
    dayMs += 86_400_000;
  }
}
