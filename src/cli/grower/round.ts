import type { Command } from 'commander';
import type { z } from 'zod';
import { roundMessageSchema } from '../../../shared/wire/messages.js';
import { MessagingError } from '../../messaging/wire/messaging-error.js';
import type { MonitorClient } from '../../messaging/wire/monitor-client.js';
import { printAnswers } from '../asking/answer-command.js';
import {
  farmNowMs,
  type ReachFlags,
  reachMonitor,
  withReach,
  withTelling,
  wordsOf,
} from '../asking/reach-monitor.js';
import { roundPage } from '../asking/round-page.js';
import { talk } from '../asking/talk.js';
import { type ManyFlags, mayTell, meantTrays, withMany } from '../asking/tell-of-trays.js';
import { EXIT } from '../program/exit-status.js';
import { type JsonFlag, printJson, withJson } from '../terminal/json-option.js';

const EXAMPLES = `
Examples:
  drybell round
  drybell round done
  drybell round done --except leek-1 lettuce-1    all but these
  drybell round done --except north mini          all but bench north and the minis
  drybell undo cli-3f2a9c1e-77b0                 takes "round done" back within a day`;

type RoundFlags = ReachFlags & JsonFlag;

/** The notice that stands; undefined before the first. */
async function standingNotice(
  monitor: MonitorClient,
): Promise<z.infer<typeof roundMessageSchema> | undefined> {
  const [retained] = await monitor.retained(monitor.topics.round);
  return retained === undefined ? undefined : roundMessageSchema.parse(JSON.parse(retained.text));
}

async function print(flags: RoundFlags): Promise<void> {
  const farm = await reachMonitor(flags);
  const { monitor } = farm;
  try {
    const message = await standingNotice(monitor);
    if (message === undefined)
      throw new MessagingError(
        'no-answer',
        `${monitor.farm} has no notice yet: it comes some time before the next round.`,
      );
    const { id: _, ...notice } = message;
    if (flags.json === true) printJson(message);
    else
      console.log(
        roundPage({ farm: monitor.farm, notice, nowMs: await farmNowMs(farm), words: wordsOf(farm) }),
      );
    if (!monitor.status.online) {
      console.error(`The monitor is not running now. ${monitor.status.sentence ?? ''}`);
      process.exitCode = EXIT.notWell;
    }
  } finally {
    await monitor.close();
  }
}

/** Everything on the notice was watered, but for the trays that words mean. */
function done(words: readonly string[], flags: ManyFlags): Promise<void> {
  return talk(flags, async (farm) => {
    const except = words.length === 0 ? [] : (await meantTrays(words, farm)).map(({ id }) => id);
    const due = (await standingNotice(farm.monitor))?.due ?? [];
    const watered = due.map(({ tray }) => ({ id: tray })).filter(({ id }) => !except.includes(id));
    if (await mayTell(watered, flags)) printAnswers([await farm.tell({ do: 'round-done', except })], flags);
  });
}

/** `drybell round` and `drybell round done`. */
export function register(program: Command): void {
  const round = withJson(
    withReach(program.command('round').description('Print the notice of the coming round on one page.')),
    'round-message',
  )
    .addHelpText('after', EXAMPLES)
    .action((flags: RoundFlags) => print(flags));
  program.enablePositionalOptions();
  round.enablePositionalOptions();
  withMany(
    withTelling(
      round.command('done').description('Everything on the notice was watered, but for the exceptions.'),
    ),
  )
    .option('--except <which...>', 'trays, benches, crops or sizes that were not watered')
    .addHelpText('after', EXAMPLES)
    .action((flags: ManyFlags & { readonly except?: string[] }) => done(flags.except ?? [], flags));
}
