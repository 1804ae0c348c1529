import type { Command } from 'commander';
import pc from 'picocolors';
import { statusSchema } from '../../../shared/facts/status.js';
import { MessagingError } from '../../messaging/wire/messaging-error.js';
import type { Heard } from '../../messaging/wire/monitor-client.js';
import { type ReachFlags, reachMonitor, withReach } from '../asking/reach-monitor.js';
import { stopSignal } from '../program/stop-signal.js';

async function listen(flags: ReachFlags): Promise<void> {
  const { monitor } = await reachMonitor(flags);
  const { topics, farm } = monitor;
  const stamp = () => pc.dim(new Date().toTimeString().slice(0, 5));
  console.log(pc.dim(`Listening to ${farm}; Ctrl-C ends.`));
  let online = monitor.status.online;
  const hear = ({ topic, text, retained }: Heard) => {
    if (topic === topics.say) console.log(`${stamp()}  ${text}`);
    if (topic !== topics.status || text === '') return;
    const status = statusSchema.parse(JSON.parse(text));
    if (status.online !== online || (retained && !status.online))
      console.log(
        `${stamp()}  ${status.online ? pc.green('The monitor is awake.') : pc.red(status.sentence ?? 'The monitor is gone.')}`,
      );
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
    .addHelpText('after', '\nExample:\n  drybell listen --broker mqtt://192.168.1.20:1883 --user phone')
    .action((flags: ReachFlags) => listen(flags));
}
