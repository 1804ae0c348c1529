import { basename, dirname, join } from 'node:path';
import { toInstant } from '../../../../shared/base/ids.js';
import type { ProbeConfig } from '../../../../shared/config/kit/probes.js';
import { editConfigFile, type ProbeEdit } from '../../../board/calibration/edit-config.js';
import { dropSession, sessionFile } from '../../../board/calibration/session-file.js';
import { didYouMean } from '../../../watering/sentences/words/did-you-mean.js';
import { addressOf } from '../../asking/reach-monitor.js';
import { type AskedFarm, askedFarm } from '../../config/asked-config.js';
import { parseConfig } from '../../config/load-config.js';
import { createLog } from '../../program/log.js';
import { realClock } from '../../program/real-clock.js';
import { openProbes } from '../../running/house-parts/open-probes.js';
import type { Dialogue } from '../../terminal/dialogue/dialogue.js';
import { terminalDialogue } from '../../terminal/dialogue/terminal-dialogue.js';
import { BadWord } from '../../terminal/typed/bad-word.js';
import { calibrateMoisture } from './calibrate-moisture.js';
import { calibrateScale } from './calibrate-scale.js';
import { measureProbe } from './measure-probe.js';

export interface CalibrateOptions {
  readonly config?: string;
  readonly restart?: true;
  readonly undo?: true;
}

/** `drybell calibrate PROBE` from start to written configuration, at a terminal. */
export async function runCalibration(probeId: string, options: CalibrateOptions): Promise<void> {
  const usable = askedFarm(options.config);
  const probe = usable.farm.probes.find(({ id }) => id === probeId);
  const objection = probe === undefined ? noSuchProbe(probeId, usable) : notCalibrated(probe);
  if (probe === undefined || objection !== undefined) throw new BadWord(objection);
  const session = sessionFile(usable.file, probeId);
  if (options.restart) dropSession(session);
  const dialogue = terminalDialogue(process.stdin, process.stdout);
  const reader = openProbes({
    config: usable.farm,
    probes: [probe],
    clock: realClock,
    brokerAddress: addressOf(usable.farm),
    asWhom: 'calibrate',
    log: createLog('silent'),
  });
  try {
    const measure = async () => await measureProbe(reader, probe, realClock, new AbortController().signal);
    const common = { file: session, dialogue, measure, nowMs: () => realClock.nowMs() };
    const edits =
      probe.kind === 'block-moisture'
        ? await moistureEdits({ ...common, farm: usable.farm, probe, undo: options.undo === true })
        : await scaleEdits({ ...common, farm: usable.farm, probeId });
    if (edits !== undefined) await write(usable, probeId, edits, session, dialogue);
  } finally {
    dialogue.close();
    await reader.close();
  }
}

function noSuchProbe(probeId: string, { file, farm }: AskedFarm): string {
  const ids = farm.probes.map(({ id }) => id);
  return `${file} has no probe "${probeId}".${didYouMean(probeId, ids)} Probes are: ${ids.join(', ') || 'none'}`;
}

function notCalibrated(probe: ProbeConfig): string | undefined {
  if (probe.hookup === undefined)
    return `probe "${probe.id}" has no hookup, so it can't be read; add one first (hardware/README.md)`;
  if (probe.kind === 'block-moisture' || probe.hookup.part === 'load-cell') return undefined;
  return `a ${probe.hookup.part} needs no calibration here; moisture probes and scales do`;
}

async function moistureEdits(
  tools: Parameters<typeof calibrateMoisture>[0],
): Promise<readonly ProbeEdit[] | undefined> {
  const fit = await calibrateMoisture(tools);
  return fit?.kind === 'fit' ? [{ path: ['calibration'], value: fit.points }] : undefined;
}

async function scaleEdits(
  tools: Parameters<typeof calibrateScale>[0],
): Promise<readonly ProbeEdit[] | undefined> {
  const result = await calibrateScale(tools);
  if (result === undefined) return undefined;
  tools.dialogue.say(
    `Zero ${result.zeroCounts} counts, ${result.countsPerG} counts per g${
      result.creep === undefined ? '' : `, creep ${(result.creep.share * 100).toFixed(3)} %`
    }.`,
  );
  return Object.entries(result).map(([key, value]) => ({ path: ['hookup', key], value }));
}

async function write(
  { file }: AskedFarm,
  probeId: string,
  edits: readonly ProbeEdit[],
  session: string,
  dialogue: Dialogue,
): Promise<void> {
  const answer = await dialogue.ask(`Write this to ${file}? (y/n) `);
  if (answer?.toLowerCase() !== 'y') {
    dialogue.say(`Nothing was written. The weighings stay in ${session}.`);
    return;
  }
  const stamp = toInstant(realClock.nowMs()).slice(0, 10);
  const kept = editConfigFile(file, probeId, edits, (text) => void parseConfig(text, file), stamp);
  dropSession(session);
  dialogue.say(
    `Written. The old configuration is kept as ${join(dirname(file), basename(kept))}. Restart the monitor to use it.`,
  );
}
