import type { Command } from 'commander';
import { createFarmModel } from '../../drying/whole/create-farm-model.js';
import { readState } from '../../store/sqlite/read-state.js';
import { createSpeech } from '../../watering/sentences/speech.js';
import { didYouMean } from '../../watering/sentences/words/did-you-mean.js';
import { askedConfig } from '../config/asked-config.js';
import { CliError } from '../program/cli-error.js';
import { realClock } from '../program/real-clock.js';
import { modelSpec } from '../running/house-parts/farm-parts.js';
import { printJson, withJson } from '../terminal/json-option.js';
import { BadWord } from '../terminal/typed/bad-word.js';
import { beliefPage } from './told/belief-page.js';

interface ExplainOptions {
  readonly config?: string;
  readonly json?: true;
}

function explain(trayId: string, { config: named, json }: ExplainOptions): void {
  const config = askedConfig(named);
  const state = readState(config.store.folder, 'model');
  if (state === undefined)
    throw new CliError(
      'nothing-saved',
      `The monitor of ${config.farm} has not saved what it believes yet: let it run for a quarter of an hour.`,
    );
  const model = createFarmModel(modelSpec(config), state);
  const known = model.trayIds();
  if (!known.includes(trayId))
    throw new BadWord(
      `There is no tray "${trayId}" on the benches of ${config.farm}.${didYouMean(trayId, known)} Trays: ${known.join(', ') || 'none'}. One that was entered just now follows within a quarter of an hour.`,
    );
  const belief = model.explain(trayId);
  if (json === true) return printJson(belief);
  const { words } = createSpeech({ timeZone: config.timeZone, units: config.units });
  console.log(beliefPage(belief, words, realClock.nowMs()));
}

/** `drybell explain TRAY`: what the model believes of a tray, from what, how sure. */
export function register(program: Command): void {
  withJson(program.command('explain'), 'belief-report')
    .description(
      'What is believed of a tray, from what, how sure; as last saved, beside a running monitor or without one.',
    )
    .argument('<tray>')
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .addHelpText('after', '\nExample:\n  drybell explain celery-1')
    .action((trayId: string, options: ExplainOptions) => explain(trayId, options));
}
