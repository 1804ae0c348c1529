import type { Command } from 'commander';
import { roundMessageSchema } from '../../../shared/messages.js';
import { MessagingError } from '../../messaging/messaging-error.js';
import { EXIT } from '../exit-status.js';
import { answerCommand } from '../house/answer-command.js';
import {
  farmNowMs,
  type ReachFlags,
  reachMonitor,
  type TellFlags,
  withReach,
  withTelling,
  wordsOf,
} from '../house/reach-monitor.js';
import { type JsonFlag, printJson, withJson } from '../terminal/json-option.js';
import { roundPage } from '../terminal/round-page.js';

const EXAMPLES = `
Examples:
  drybell round
  drybell round done
  drybell round done --except leek-1 lettuce-1    all but these
  drybell undo cli-3f2a9c1e-77b0                 takes "round done" back within a day`;

type RoundFlags = ReachFlags & JsonFlag;

async function print(flags: RoundFlags): Promise<void> {
  const farm = await reachMonitor(flags);
  const { monitor } = farm;
  try {
    const [retained] = await monitor.retained(monitor.topics.round);
    if (retained === undefined)
      throw new MessagingError(
        'no-answer',
        `${monitor.farm} has no notice yet: it comes some time before the next round.`,
      );
    const message = roundMessageSchema.parse(JSON.parse(retained.text));
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
  withTelling(
    round.command('done').description('Everything on the notice was watered, but for the exceptions.'),
  )
    .option('--except <trays...>', 'trays that were not watered')
    .addHelpText('after', EXAMPLES)
    .action((flags: TellFlags & { readonly except?: string[] }) =>
      answerCommand(flags, () => ({
        do: 'round-done',
        except: (flags.except ?? []).flatMap((word) => word.split(',')).filter((word) => word !== ''),
      })),
    );
}
