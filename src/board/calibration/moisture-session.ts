import { z } from 'zod';
import { idSchema, instantSchema } from '../../../shared/base/ids.js';

const weighingSchema = z.strictObject({
  step: z.enum(['full', 'drying', 'dry']),
  at: instantSchema,
  /** What the kitchen scale shows, block and tare. */
  scaleG: z.number(),
  /** Absent for the dry block when it came out of the oven without its probe. */
  volts: z.number().optional(),
});
export type Weighing = z.infer<typeof weighingSchema>;
export type Step = Weighing['step'];

/** A gravimetric calibration under way; kept in a file between one weighing and the next. */
export const moistureSessionSchema = z.strictObject({
  probe: idSchema,
  blockSideMm: z.number().min(10).max(300),
  /** Blade, dish and whatever else stands on the scale each time. */
  tareG: z.number().min(0),
  weighings: z.array(weighingSchema),
});
export type MoistureSession = z.infer<typeof moistureSessionSchema>;

/** Fewer drying steps than this leave the curve's middle to chance. */
export const leastDryingSteps = 2;

/**
 * Bounds for one block's own weight per mL of its volume, g/mL. Full: pressed mixes hold 0.4 to 0.95 of water besides
 * solids. Dry: bulk density of peat and coir mixes with some mineral in it. Judgement, wide on purpose: they catch a tare
 * that was forgotten and a slipped digit.
 */
const fullGPerMl = { least: 0.5, most: 1.6 };
const dryGPerMl = { least: 0.04, most: 0.8 };
/** A probe that moves less than this between full and dry, or between two weighings, did not notice. */
const leastVolts = 0.01;

export type Taken =
  | { readonly kind: 'taken'; readonly session: MoistureSession }
  | { readonly kind: 'refused'; readonly reason: string };

/** Volume of the block, mL. */
export function blockMl(blockSideMm: number): number {
  return blockSideMm ** 3 / 1000;
}

/** What comes next. */
export function nextStep(session: MoistureSession): Step | 'done' {
  const steps = session.weighings.map(({ step }) => step);
  if (!steps.includes('full')) return 'full';
  if (steps.includes('dry')) return 'done';
  return steps.filter((step) => step === 'drying').length < leastDryingSteps ? 'drying' : 'dry';
}

/**
 * Adds a weighing, or says why it can't be right. Never changes what was weighed before.
 * @param weight how the farm writes a weight
 */
export function takeWeighing(
  session: MoistureSession,
  weighing: Weighing,
  weight: (g: number) => string,
): Taken {
  const reason = objection(session, weighing, weight);
  return reason === undefined
    ? { kind: 'taken', session: { ...session, weighings: [...session.weighings, weighing] } }
    : { kind: 'refused', reason };
}

function objection(
  session: MoistureSession,
  { step, scaleG, volts }: Weighing,
  weight: (g: number) => string,
): string | undefined {
  const { weighings, tareG, blockSideMm } = session;
  const volumeMl = blockMl(blockSideMm);
  const last = weighings.at(-1);
  const netG = scaleG - tareG;
  if (!Number.isFinite(scaleG) || netG <= 0)
    return `${weight(scaleG)} can't be: block and tare together weigh more than the tare of ${weight(tareG)}`;
  const wanted = nextStep(session);
  if (wanted === 'done') return 'this calibration is complete; start a new one with --restart';
  const order: readonly Step[] = wanted === 'dry' ? ['dry', 'drying'] : [wanted];
  if (!order.includes(step))
    return `${step} comes later: next is the ${wanted} weighing (${weighings.length} taken so far)`;
  if (last !== undefined && scaleG >= last.scaleG)
    return `${weight(scaleG)} after ${weight(last.scaleG)}: a drying block only loses weight. If it was watered, start again with --restart; if the last weight was wrong, take it back with --undo`;
  const bounds = step === 'full' ? fullGPerMl : step === 'dry' ? dryGPerMl : undefined;
  if (bounds !== undefined && (netG < bounds.least * volumeMl || netG > bounds.most * volumeMl))
    return `${weight(netG)} is not what a ${step} block of this size weighs: ${weight(bounds.least * volumeMl)} to ${weight(bounds.most * volumeMl)} are. Check the tare (${weight(tareG)}) and the block size`;
  if (step !== 'dry' && volts === undefined) return 'the probe gave no voltage; see `drybell probes`';
  if (last?.volts !== undefined && volts !== undefined && Math.abs(volts - last.volts) < leastVolts)
    return `the probe shows ${volts.toFixed(3)} V as before, though the block lost ${weight(last.scaleG - scaleG)}: push it in again, or wait longer`;
  return undefined;
}
