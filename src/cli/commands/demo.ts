import type { Command } from 'commander';

/** `drybell demo`. */
export function register(program: Command): void {
  program
    .command('demo')
    .description(
      'Run the made-up farm on a virtual bench and a fast clock; also what starts without a configuration.',
    )
    .action(async () => {
      const { runDemo } = await import('../house/run-demo.js');
      await runDemo();
    });
}
