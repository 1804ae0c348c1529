import type { Command } from 'commander';

const EXAMPLES = `
Examples:
  drybell demo                                          Ctrl-C ends it
  drybell tray list --broker mqtt://127.0.0.1:38211     beside it, with the broker that it prints
  drybell listen --broker mqtt://127.0.0.1:38211`;

/** `drybell demo`. */
export function register(program: Command): void {
  program
    .command('demo')
    .description(
      'Run the made-up farm on a virtual bench and a fast clock; also what starts without a configuration.',
    )
    .addHelpText('after', EXAMPLES)
    .action(async () => {
      const { runDemo } = await import('./run-demo.js');
      await runDemo();
    });
}
