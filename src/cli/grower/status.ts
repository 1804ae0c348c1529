import { existsSync } from 'node:fs';
import type { Command } from 'commander';
import { createSpeech } from '../../watering/sentences/speech.js';
import { statusAtBroker, statusOfFarm } from '../asking/look-at-status.js';
import { type ReachFlags, withReach } from '../asking/reach-monitor.js';
import { statusLines } from '../asking/status-lines.js';
import { askedFarm, unitsHere } from '../config/asked-config.js';
import { findConfig } from '../config/find-config.js';
import { EXIT } from '../program/exit-status.js';
import { realClock } from '../program/real-clock.js';
import { type JsonFlag, printJson, withJson } from '../terminal/json-option.js';

const EXAMPLES = `
Examples:
  drybell status                                  what runs, where all is kept, what waits, what calls
  drybell status --json                           the same as data
  drybell status --broker mqtt://greenhouse.lan   from another machine: the monitor and its alarms
Exit status: 0 all is well; 1 it is not, or no monitor runs; 2 the configuration can't be used; 3 nobody answers at the broker that was named.`;

async function status(flags: ReachFlags & JsonFlag): Promise<void> {
  const named = findConfig(flags.config, process.cwd(), process.env);
  const isFarmHere = named !== undefined && (flags.config !== undefined || flags.broker === undefined);
  const farm = isFarmHere && (existsSync(named) || flags.config !== undefined) ? askedFarm(named) : undefined;
  const report =
    farm === undefined ? await statusAtBroker(flags) : await statusOfFarm(farm, flags, realClock.nowMs());
  if (!report.well) process.exitCode = EXIT.notWell;
  if (flags.json === true) {
    printJson(report);
    return;
  }
  const { words } = createSpeech({
    timeZone: farm?.farm.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
    units: unitsHere(),
  });
  const time = (instant: string): string => words.weekdayTime(Date.parse(instant), Date.parse(report.at));
  for (const line of statusLines(report, time)) console.log(line);
}

/** `drybell status`: how the whole of it stands, with and without a running monitor. */
export function register(program: Command): void {
  withJson(
    withReach(
      program
        .command('status')
        .description(
          'What runs, where configuration and store are, how old the readings are, what waits to be sent, what was set aside and which alarms stand; with and without a running monitor.',
        ),
    ),
    'status-report',
  )
    .addHelpText('after', EXAMPLES)
    .action(status);
}
