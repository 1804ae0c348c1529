import { toInstant } from '../../../../shared/base/ids.js';
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
import { expectedOf, quantityOf } from '../../terminal/typed/quantities.js';
import { METRIC } from '../../terminal/typed/typed-units.js';
import type { Measured } from './measure-probe.js';

export interface ScaleTools {
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
  let session: ScaleSession = loadSession(file, scaleSessionSchema) ?? { probe: probeId, points: [] };
  const has = (step: ScalePoint['step']): boolean => session.points.some((point) => point.step === step);
  const take = async (step: ScalePoint['step'], loadG: number): Promise<boolean> => {
    dialogue.say('Reading the scale ...');
    const measured = await tools.measure();
    if (measured.kind === 'failed') {
      dialogue.say(`Not taken: ${measured.reason}.`);
      return false;
    }
    const taken = takeScalePoint(session, {
      step,
      at: toInstant(tools.nowMs()),
      counts: measured.counts,
      loadG,
    });
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
      'Put something on it that you weighed, 1 to 3 kg (a full bottle), and write its weight (a bare number is g): ',
    );
    if (answer === undefined || answer === '') return undefined;
    const loadG = quantityOf('weight', answer, METRIC);
    if (loadG === undefined)
      dialogue.say(`"${answer}" is no weight; expected ${expectedOf('weight', METRIC)}`);
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
