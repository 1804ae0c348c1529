import { Command } from 'commander';
import { register as registerAlarm } from './commands/alarm.js';
import { register as registerAway } from './commands/away.js';
import { register as registerBackup } from './commands/backup.js';
import { register as registerCalibrate } from './commands/calibrate.js';
import { register as registerCheck } from './commands/check.js';
import { register as registerConvert } from './commands/convert.js';
import { register as registerCurves } from './commands/curves.js';
import { register as registerDemo } from './commands/demo.js';
import { register as registerEstimate } from './commands/estimate.js';
import { register as registerExplain } from './commands/explain.js';
import { register as registerExport } from './commands/export.js';
import { register as registerListen } from './commands/listen.js';
import { register as registerNote } from './commands/note.js';
import { register as registerProbes } from './commands/probes.js';
import { register as registerReplay } from './commands/replay.js';
import { register as registerRound } from './commands/round.js';
import { register as registerRun } from './commands/run.js';
import { register as registerService } from './commands/service.js';
import { register as registerStoreCheck } from './commands/store-check.js';
import { register as registerTray } from './commands/tray.js';
import { register as registerWatered } from './commands/watered.js';
import { register as registerWiring } from './commands/wiring.js';

const program = new Command('drybell')
  .description('Watches trays of seedling blocks dry, and calls before they need water.')
  .showHelpAfterError('(drybell help tells more)');

const commands = [
  registerRun,
  registerDemo,
  registerCheck,
  registerRound,
  registerWatered,
  registerTray,
  registerAlarm,
  registerAway,
  registerNote,
  registerListen,
  registerExplain,
  registerEstimate,
  registerCurves,
  registerExport,
  registerReplay,
  registerConvert,
  registerWiring,
  registerProbes,
  registerCalibrate,
  registerService,
  registerBackup,
  registerStoreCheck,
];
for (const register of commands) register(program);

try {
  await program.parseAsync();
} catch (error) {
  // Operational failures carry a code and a message for people; anything else is our own mistake and shows its stack.
  if (!(error instanceof Error && 'code' in error && typeof error.code === 'string')) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
