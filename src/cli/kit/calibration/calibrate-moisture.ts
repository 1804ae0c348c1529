import { toInstant } from '../../../../shared/base/ids.js';
import type { FarmConfig } from '../../../../shared/config/farm.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { fitMoisture, fitText, type MoistureFit } from '../../../board/calibration/moisture-fit.js';
import {
  blockMl,
  leastDryingSteps,
  type MoistureSession,
  moistureSessionSchema,
  nextStep,
  type Step,
  takeWeighing,
} from '../../../board/calibration/moisture-session.js';
import { loadSession, saveSession } from '../../../board/calibration/session-file.js';
import { createSpeech } from '../../../watering/sentences/speech.js';
import type { FarmWords } from '../../../watering/sentences/words/farm-words.js';
import type { Dialogue } from '../../terminal/dialogue/dialogue.js';
import { expectedSide, sideMmOf } from '../../terminal/typed/block-side.js';
import type { Measured } from './measure-probe.js';
import { weightsOf } from './weights.js';

export interface MoistureTools {
  readonly farm: FarmConfig;
  readonly probe: Extract<ProbeConfig, { kind: 'block-moisture' }>;
  readonly file: string;
  readonly dialogue: Dialogue;
  readonly measure: () => Promise<Measured>;
  readonly nowMs: () => number;
  readonly undo: boolean;
}

/** Between two fits, what the left-out weighings may be off before another weighing is worth the while (judgement). */
const worthAnotherM3PerM3 = 0.05;

/** Dried at so much nothing but water goes off peat and coir, °C. */
const PEAT_DRY_C = 60;
const MINERAL_DRY_C = 105;

const adviceIn = ({ degrees }: FarmWords): { readonly [S in Step]: string } => ({
  full: 'Bottom-water the witness block until it shines, lift it out, let it drain for 30 minutes. Push the probe in as it will stay; it stays in until the end. Weigh block and probe together.',
  drying:
    'Let the block dry at its place, for some hours or overnight, and weigh it again the same way. The last of these should be when you would surely water it.',
  dry: `Take the probe out and lay it on the dish. Dry the block until two weighings an hour apart are the same: ${degrees(PEAT_DRY_C)} for peat and coir mixes, ${degrees(MINERAL_DRY_C)} for mineral ones, never unattended and not in a kitchen oven that is used for food. Weigh block, dish and probe as before.`,
});

/**
 * One sitting of a gravimetric calibration: takes the weighings that are due now, each safe on disk before the next is
 * asked for.
 * @returns the fit when the block was weighed dry, else undefined: to be continued
 */
export async function calibrateMoisture(tools: MoistureTools): Promise<MoistureFit | undefined> {
  const { file, dialogue } = tools;
  let session = loadSession(file, moistureSessionSchema) ?? (await newSession(tools));
  if (session === undefined) {
    dialogue.say('\nLeft before the first weighing: nothing is kept.');
    return undefined;
  }
  if (tools.undo) {
    session = { ...session, weighings: session.weighings.slice(0, -1) };
    dialogue.say('The last weighing was taken back.');
  }
  saveSession(file, session);
  while (nextStep(session) !== 'done') {
    dialogue.say(progress(session, tools.farm));
    const after = await oneWeighing(session, tools);
    if (after === undefined) {
      dialogue.say(`Kept in ${file}. Go on with the same command when the block is ready.`);
      return undefined;
    }
    session = after;
    saveSession(file, session);
  }
  const fit = fitMoisture(session);
  dialogue.say(fit.kind === 'fit' ? fitText(fit) : `These weighings give no curve: ${fit.reason}.`);
  if (fit.kind === 'fit' && (fit.worstLeftOutM3PerM3 ?? 0) > worthAnotherM3PerM3)
    dialogue.say(
      'One weighing disagrees with the others. The curve is usable; another calibration with more steps will be better.',
    );
  return fit;
}

async function newSession({ farm, probe, dialogue }: MoistureTools): Promise<MoistureSession | undefined> {
  const tray = farm.trays.find(({ id }) => id === probe.tray);
  const { units } = farm;
  const words = createSpeech({ timeZone: farm.timeZone, units }).words;
  const weights = weightsOf(farm, 'block');
  const blockSideMm =
    tray?.blockSideMm ??
    (await askUntil(
      dialogue,
      `Side of the witness block, ${units.length}: `,
      (answer) => sideMmOf(answer, units),
      expectedSide(units),
    ));
  if (blockSideMm === undefined) return undefined;
  dialogue.say(
    `Calibrating ${probe.id} with a block of ${words.side(blockSideMm)} (${words.volume(blockMl(blockSideMm))}). You need a scale that shows ${weights.unit === 'g' ? '0.1 g' : '0.005 oz'}, and a day or two.`,
  );
  const tareG = await askUntil(
    dialogue,
    `What stands on the scale each time besides the block (dish, probe without its cable pulling), ${weights.unit}: `,
    weights.read,
    weights.expected,
  );
  return tareG === undefined ? undefined : { probe: probe.id, blockSideMm, tareG, weighings: [] };
}

/** Asks until the answer can be read; undefined when nothing is answered. */
async function askUntil(
  dialogue: Dialogue,
  question: string,
  read: (answer: string) => number | undefined,
  expected: string,
): Promise<number | undefined> {
  for (;;) {
    const answer = await dialogue.ask(question);
    if (answer === undefined || answer === '') return undefined;
    const number = read(answer);
    if (number !== undefined && number >= 0) return number;
    dialogue.say(`"${answer}": expected ${expected}`);
  }
}

function progress({ weighings, tareG }: MoistureSession, farm: FarmConfig): string {
  const { told } = weightsOf(farm, 'block');
  const { words } = createSpeech({ timeZone: farm.timeZone, units: farm.units });
  const taken = weighings.map(({ step, at, scaleG, volts }) =>
    `  ${words.dated(Date.parse(at))}  ${step.padEnd(6)}  ${told(scaleG)}  ${volts === undefined ? '' : `${volts.toFixed(3)} V`}`.trimEnd(),
  );
  return taken.length === 0
    ? `Tare ${told(tareG)}. Nothing weighed yet.`
    : ['Weighed so far:', ...taken].join('\n');
}

async function oneWeighing(
  session: MoistureSession,
  tools: MoistureTools,
): Promise<MoistureSession | undefined> {
  const { dialogue, measure, nowMs, farm } = tools;
  const advice = adviceIn(createSpeech({ timeZone: farm.timeZone, units: farm.units }).words);
  const weights = weightsOf(farm, 'block');
  const dryExample = weights.unit === 'g' ? 'dry 8.1' : 'dry 0.29';
  const wanted = nextStep(session);
  if (wanted === 'done') return session;
  dialogue.say(`\n${advice[wanted]}`);
  if (wanted === 'dry') dialogue.say(`Or: ${advice.drying}`);
  const question =
    wanted === 'dry'
      ? `Weight now, ${weights.unit} ("${dryExample}" when it is the dried block; Enter to go on later): `
      : `Weight now, ${weights.unit} (Enter to go on later): `;
  for (;;) {
    const answer = await dialogue.ask(question);
    if (answer === undefined || answer === '') return undefined;
    const isDry = /^dry\b/i.test(answer);
    const scaleG = weights.read(answer.replace(/^dry\b/i, ''));
    if (scaleG === undefined) {
      dialogue.say(
        `"${answer}" is no weight; expected ${weights.expected}${wanted === 'dry' ? `, or ${dryExample}` : ''}`,
      );
      continue;
    }
    const step: Step = isDry ? 'dry' : wanted === 'dry' ? 'drying' : wanted;
    let volts: number | undefined;
    if (step !== 'dry') {
      dialogue.say('Reading the probe ...');
      const measured = await measure();
      if (measured.kind === 'failed') {
        dialogue.say(`Not taken: ${measured.reason}.`);
        continue;
      }
      volts = measured.volts;
    }
    const at = toInstant(nowMs());
    const taken = takeWeighing(
      session,
      { step, at, scaleG, ...(volts === undefined ? {} : { volts }) },
      weights.told,
    );
    if (taken.kind === 'taken') {
      dialogue.say(
        `Taken: ${weights.told(scaleG)}${volts === undefined ? '' : ` at ${volts.toFixed(3)} V`}.`,
      );
      return taken.session;
    }
    dialogue.say(`Not taken: ${taken.reason}.`);
    if (step === 'dry' && session.weighings.filter((one) => one.step === 'drying').length < leastDryingSteps)
      return undefined;
  }
}
