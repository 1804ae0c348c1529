import type { Command } from 'commander';
import type { InstallOptions } from './starting/run-service.js';

const configHelp = 'configuration (drybell.jsonc or drybell.json in this folder when absent)';

const EXAMPLES = `
Examples:
  sudo drybell service install --config /etc/drybell/drybell.json
  drybell service install --print             only shows the unit
  drybell service wait-for-clock              is the time to be trusted? ends when it is`;

/** `drybell service`: start at boot, under a user of its own, with times that can be trusted. */
export function register(program: Command): void {
  const service = program
    .command('service')
    .description('Start at boot, as a systemd service.')
    .addHelpText('after', EXAMPLES);
  service
    .command('install')
    .description('Make the service: a user of its own, device access, restart on failure. Needs root.')
    .option('--config <file>', configHelp)
    .option('--user <name>', 'user that the service runs as', 'drybell')
    .option('--print', 'only print the unit')
    .addHelpText('after', EXAMPLES)
    .action(async (options: InstallOptions) => {
      const { installService } = await import('./starting/run-service.js');
      await installService(options);
    });
  service
    .command('wait-for-clock')
    .description('Wait until the clock can be trusted; the service does so before it starts.')
    .option('--config <file>', configHelp)
    .addHelpText('after', EXAMPLES)
    .action(async (options: { readonly config?: string }) => {
      const { waitForClock } = await import('./starting/run-service.js');
      const { realClock } = await import('../program/real-clock.js');
      await waitForClock(options.config, realClock, (text) => console.log(text));
    });
}
