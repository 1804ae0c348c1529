import type { Command } from 'commander';
import pc from 'picocolors';
import { asksForHelp } from '../../../shared/base/asks-for-help.js';
import type { AlarmsReport } from '../../../shared/cli-reports.js';
import { type AlarmTransition, alarmKindSchema } from '../../../shared/facts/alarm.js';
import { alarmMessageSchema } from '../../../shared/wire/messages.js';
import { answerCommand } from '../asking/answer-command.js';
import {
  farmNowMs,
  type ReachFlags,
  reachMonitor,
  type TellFlags,
  withReach,
  withSender,
  wordsOf,
} from '../asking/reach-monitor.js';
import { EXIT } from '../program/exit-status.js';
import { STATE_WORDS } from '../terminal/alarm-words.js';
import { type JsonFlag, printJson, withJson } from '../terminal/json-option.js';

const EXAMPLES = `
Examples:
  drybell alarm                           what is not in order now
  drybell alarm seen                      all calls are seen
  drybell alarm seen celery-1
  drybell alarm later celery-1 refill --until 21:00
  drybell alarm again celery-1 refill     before that time
  drybell alarm off moist-celery probe
  drybell alarm on moist-celery probe
  drybell undo cli-3f2a9c1e-77b0          takes "later" or "off" back within a day; "seen" stays
Kinds: ${alarmKindSchema.options.join(', ')}.
Exit status of the list: 0 nothing stands; 1 something does.`;

type ListFlags = ReachFlags & JsonFlag & { readonly all?: true };

async function list(flags: ListFlags): Promise<void> {
  const reached = await reachMonitor(flags);
  const { monitor } = reached;
  const retained = await monitor.retained(`${monitor.topics.root}/alarm/+/+`);
  const nowMs = await farmNowMs(reached);
  await monitor.close();
  const words = wordsOf(reached);
  const alarms = retained
    .map(({ text }): AlarmTransition => {
      const { id: _, ...transition } = alarmMessageSchema.parse(JSON.parse(text));
      return transition;
    })
    .filter((alarm) => flags.all === true || alarm.state !== 'normal')
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  if (alarms.some(asksForHelp)) process.exitCode = EXIT.notWell;
  if (flags.json === true) return printJson({ farm: monitor.farm, alarms } satisfies AlarmsReport);
  if (alarms.length === 0) console.log(`Nothing is out of order on ${monitor.farm}.`);
  for (const { at, kind, state, tray, bench, source, sentence } of alarms) {
    const paint = state === 'unacknowledged' ? pc.red : state === 'normal' ? pc.green : pc.yellow;
    const whom = tray ?? bench ?? source ?? '';
    console.log(
      `${pc.dim(words.weekdayTime(Date.parse(at), nowMs))}  ${paint(STATE_WORDS[state].padEnd(14))} ${whom} ${kind}  ${sentence ?? ''}`,
    );
  }
}

const NAMED = [
  { usage: 'again <of> <kind>', says: 'What was put off for later may call again.', does: 'unshelve' },
  { usage: 'off <of> <kind>', says: 'Take it out of service: it calls no more.', does: 'out-of-service' },
  { usage: 'on <of> <kind>', says: 'Put it back in service.', does: 'in-service' },
] as const;

/** `drybell alarm …`. */
export function register(program: Command): void {
  const alarm = withJson(
    withReach(program.command('alarm').description('What is not in order; seen, later, off.')),
    'alarms-report',
  )
    .option('--all', 'those in order as well')
    .addHelpText('after', EXAMPLES)
    .action((flags: ListFlags) => list(flags));
  program.enablePositionalOptions();
  alarm.enablePositionalOptions();
  withSender(alarm.command('seen [of] [kind]').description('Somebody has seen it and takes care.'))
    .addHelpText('after', EXAMPLES)
    .action((of: string | undefined, kind: string | undefined, flags: TellFlags) =>
      answerCommand(flags, () => ({
        do: 'acknowledge',
        ...(of === undefined ? {} : { of }),
        ...(kind === undefined ? {} : { kind }),
      })),
    );
  withSender(alarm.command('later <of> <kind>').description('Put it off until then.'))
    .requiredOption('--until <time>', '"21:00", "3h" or 2026-04-18T21:00:00+02:00')
    .addHelpText('after', EXAMPLES)
    .action((of: string, kind: string, flags: TellFlags & { readonly until: string }) =>
      answerCommand(flags, async ({ moment }) => ({
        do: 'shelve',
        of,
        kind,
        until: await moment(flags.until, 'future'),
      })),
    );
  for (const { usage, says, does } of NAMED)
    withSender(alarm.command(usage).description(says))
      .addHelpText('after', EXAMPLES)
      .action((of: string, kind: string, flags: TellFlags) =>
        answerCommand(flags, () => ({ do: does, of, kind })),
      );
}
