#!/usr/bin/env node
import { EXIT } from './program/exit-status.js';
import { runCli } from './run-cli.js';
import { fitConsole } from './terminal/fitted.js';

// Whoever reads may have seen enough, as "head" has: that is no failure.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(process.exitCode ?? EXIT.done);
    throw error;
  });

fitConsole();
process.exitCode = await runCli(process.argv.slice(2));
