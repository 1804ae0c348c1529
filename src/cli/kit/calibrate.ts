import type { Command } from 'commander';
import type { CalibrateOptions } from './calibration/run-calibration.js';

const EXAMPLES = `
Examples:
  drybell calibrate moist-celery              asks step by step; goes on where it was stopped
  drybell calibrate moist-celery --undo       the last weighing was wrong
  drybell calibrate moist-celery --restart    begin again`;

/** `drybell calibrate PROBE`: a moisture probe with a kitchen scale, or a tray scale with a known weight. */
export function register(program: Command): void {
  program
    .command('calibrate')
    .argument('<probe>', 'a block-moisture probe, or a tray scale')
    .description(
      'Calibrate a probe step by step over a day or two; stop and go on at any time. Stop the monitor first.',
    )
    .option('--config <file>', 'configuration (drybell.jsonc or drybell.json in this folder when absent)')
    .option('--restart', 'forget the weighings taken so far')
    .option('--undo', 'take the last weighing back')
    .addHelpText('after', EXAMPLES)
    .action(async (probe: string, options: CalibrateOptions) => {
      const { runCalibration } = await import('./calibration/run-calibration.js');
      await runCalibration(probe, options);
    });
}
