/** A share learned by counting; a Beta distribution's two counts, its prior included. */
export interface Share {
  readonly yes: number;
  readonly no: number;
}

/** How this grower waters and tells, learned from trays whose probe shows what happened. JSON-able. */
export interface GrowerHabit {
  /** Of the trays that a notice listed, watered at that round. */
  readonly listedWatered: Share;
  /** Of the trays that could wait, watered all the same. */
  readonly unlistedWatered: Share;
  /** Of the waterings, told. */
  readonly told: Share;
}

/** Before anything is seen: listed trays are mostly watered, others rarely, and telling is as likely as not. Judgement. */
export const startingHabit: GrowerHabit = {
  listedWatered: { yes: 8.5, no: 1.5 },
  unlistedWatered: { yes: 1, no: 9 },
  told: { yes: 1, no: 1 },
};

/** Older rounds fade beyond this many, so that a new hand on the farm is learned within weeks. */
const REMEMBERED = 60;

export function shareOf(share: Share): number {
  return share.yes / (share.yes + share.no);
}

export function counted(share: Share, yes: boolean): Share {
  const fade = Math.min(1, REMEMBERED / (share.yes + share.no + 1));
  return { yes: (share.yes + (yes ? 1 : 0)) * fade, no: (share.no + (yes ? 0 : 1)) * fade };
}

/**
 * Probability that a tray nobody told of was watered at a round. `benchSeen`: of the probed trays on its bench that were listed
 * like it, how many a probe showed watered; they weigh as much as two rounds of habit each. Silence counts against it as far as
 * this grower usually tells (Bayes).
 */
export function probabilityWatered(
  habit: GrowerHabit,
  listed: boolean,
  benchSeen: { readonly watered: number; readonly of: number },
): number {
  const usual = shareOf(listed ? habit.listedWatered : habit.unlistedWatered);
  const watered = (usual * 2 + benchSeen.watered * 2) / (2 + benchSeen.of * 2);
  const untold = watered * (1 - shareOf(habit.told));
  return untold / (untold + 1 - watered);
}
