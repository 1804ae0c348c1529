import { type LevelWithSilent, type Logger, pino } from 'pino';

/** Log of the house on standard error, one JSON line per event; passwords never get into it. */
export function createLog(level: LevelWithSilent): Logger {
  return pino(
    { level, base: null, redact: { paths: ['password', '*.password', '*.*.password'], remove: true } },
    pino.destination({ fd: 2, sync: true }),
  );
}
