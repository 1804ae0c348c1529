import { toInstant } from '../../../../shared/base/ids.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import {
  type ScalePoint,
  type ScaleResult,
  type ScaleSession,
  scaleResult,
  scaleSessionSchema,
  takeScalePoint,
} from '../../../board/calibration/scale-session.js';
import { loadSession, saveSession } from '../../../board/calibration/session-file.js';
import type { Dialogue } from '../../terminal/dialogue/dialogue.js';
import type { Measured } from './measure-probe.js';
import { weightsOf } from './weights.js';

export interface ScaleTools {
  readonly farm: FarmConfig;
  readonly probeId: string;
  readonly file: string;
  readonly dialogue: Dialogue;
  readonly measure: () => Promise<Measured>;
  readonly nowMs: () => number;
}

/**
 * Zero, span and, for who waits, creep of a tray scale.
 * @returns the result once a known weight was read, else undefined: to be continued
 */
export async function calibrateScale(tools: ScaleTools): Promise<ScaleResult | undefined> {
  const { dialogue, file, probeId } = tools;
  const weights = weightsOf(tools.farm, 'tray');
  let session: ScaleSession = loadSession(file, scaleSessionSchema) ?? { probe: probeId, points: [] };
  const has = (step: ScalePoint['step']): boolean => session.points.some((point) => point.step === step);
  const take = async (step: ScalePoint['step'], loadG: number): Promise<boolean> => {
    dialogue.say('Reading the scale ...');
    const measured = await tools.measure();
    if (measured.kind === 'failed') {
      dialogue.say(`Not taken: ${measured.reason}.`);
      return false;
    }
    const at = toInstant(tools.nowMs());
    const taken = takeScalePoint(session, { step, at, counts: measured.counts, loadG }, weights.told);
    if (taken.kind === 'refused') {
      dialogue.say(`Not taken: ${taken.reason}.`);
      return false;
    }
    session = taken.session;
    saveSession(file, session);
    dialogue.say(`Taken: ${measured.counts} counts.`);
    return true;
  };

  while (!has('empty')) {
    const answer = await dialogue.ask(
      'Take everything off the scale, wait a minute, press Enter ("q" to stop): ',
    );
    if (answer === undefined || answer === 'q') return undefined;
    await take('empty', 0);
  }
  while (!has('loaded')) {
    const answer = await dialogue.ask(
      `Put something on it that you weighed, ${weights.unit === 'g' ? '1 to 3 kg' : '2 to 6 lb'} (a full bottle), and write its weight (a bare number is ${weights.unit}): `,
    );
    if (answer === undefined || answer === '') return undefined;
    const loadG = weights.read(answer);
    if (loadG === undefined) dialogue.say(`"${answer}" is no weight; expected ${weights.expected}`);
    else await take('loaded', loadG);
  }
  while (!has('later')) {
    const answer = await dialogue.ask(
      'For creep leave it there for 20 minutes or more, then write "later". Enter to do without: ',
    );
    if (answer !== 'later') break;
    await take('later', session.points.find(({ step }) => step === 'loaded')?.loadG ?? 0);
  }
  return scaleResult(session);
}
