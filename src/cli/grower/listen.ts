import type { Command } from 'commander';
import pc from 'picocolors';
import { toInstant } from '../../../shared/base/ids.js';
import type { HeardReport } from '../../../shared/cli-reports.js';
import { statusSchema } from '../../../shared/facts/status.js';
import { MessagingError } from '../../messaging/wire/messaging-error.js';
import type { Heard } from '../../messaging/wire/monitor-client.js';
import { type ReachFlags, reachMonitor, withReach } from '../asking/reach-monitor.js';
import { realClock } from '../program/real-clock.js';
import { stopSignal } from '../program/stop-signal.js';
import type { JsonFlag } from '../terminal/json-option.js';

type ListenFlags = ReachFlags & JsonFlag;

type Told = { readonly [Key in Exclude<keyof HeardReport, 'at'>]?: HeardReport[Key] | undefined };

/** How what is heard is written: a line with the time of day, or a JSON document a line. */
function writer(isJson: boolean): (heard: Told) => void {
  return ({ say, online, sentence }) => {
    const nowMs = realClock.nowMs();
    if (isJson) {
      console.log(JSON.stringify({ at: toInstant(nowMs), say, online, sentence }));
      return;
    }
    const stamp = pc.dim(new Date(nowMs).toTimeString().slice(0, 5));
    const gone = pc.red(sentence ?? 'The monitor is gone.');
    console.log(`${stamp}  ${say ?? (online === true ? pc.green('The monitor is awake.') : gone)}`);
  };
}

async function listen(flags: ListenFlags): Promise<void> {
  const { monitor } = await reachMonitor(flags);
  const { topics, farm } = monitor;
  const write = writer(flags.json === true);
  if (flags.json !== true) console.log(pc.dim(`Listening to ${farm}; Ctrl-C ends.`));
  let online = monitor.status.online;
  const hear = ({ topic, text, retained }: Heard) => {
    if (topic === topics.say) write({ say: text });
    if (topic !== topics.status || text === '') return;
    const status = statusSchema.parse(JSON.parse(text));
    if (status.online !== online || (retained && !status.online))
      write({ online: status.online, ...(status.online ? {} : { sentence: status.sentence }) });
    online = status.online;
  };
  let stopped = false;
  void stopSignal(() => undefined).then(async () => {
    stopped = true;
    await monitor.close();
  });
  await monitor.listen([topics.say, topics.status], hear);
  if (!stopped)
    throw new MessagingError(
      'no-monitor',
      `The broker of ${farm} hung up: nobody tells you anything now. Look at the monitor.`,
    );
}

/** `drybell listen`. */
export function register(program: Command): void {
  withReach(
    program.command('listen').description('Hear calls, notices and questions as sentences while they come.'),
  )
    .option('--json', 'as data, a JSON document a line (shared/schemas/heard-report.schema.json)')
    .addHelpText('after', '\nExample:\n  drybell listen --broker mqtt://192.168.1.20:1883 --user phone')
    .action((flags: ListenFlags) => listen(flags));
}
