import type { Command } from 'commander';
import type { ProbesOptions } from './watching/show-probes.js';

const EXAMPLES = `
Examples:
  drybell probes                          every two seconds, Ctrl-C ends
  drybell probes --once --config farm.jsonc
  drybell probes --every 10
  drybell probes --watch                  touch one, see which has moved since the start
  drybell probes --lamp                   is the call seen and heard from where you work?
  drybell probes --boards                 serial numbers for the configuration
  drybell probes --once --json            for scripts; exit status 1 where a probe or board is not well`;

/** `drybell probes`: what the probes say right now. */
export function register(program: Command): void {
  program
    .command('probes')
    .description(
      'Watch the probes live: counts, volts and value of each, and whether it is to be trusted. Stop the monitor first.',
    )
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .option('--every <seconds>', 'time between two readings', '2')
    .option('--watch', 'say of each probe how far it has moved since the start')
    .option('--once', 'read once and end')
    .option('--lamp', 'try lamp, buzzer and button: on until the button is pressed, 30 s at most')
    .option('--boards', 'list the boards that are plugged in, with their serial numbers')
    .option(
      '--json',
      'read once, as one JSON document (shared/schemas/probes-report.schema.json); with --boards shared/schemas/boards-report.schema.json',
    )
    .addHelpText('after', EXAMPLES)
    .action(async (options: ProbesOptions & { readonly boards?: true }) => {
      const { listBoards, showProbes } = await import('./watching/show-probes.js');
      if (options.boards) await listBoards(options);
      else await showProbes(options);
    });
}
