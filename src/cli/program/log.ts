import { type LevelWithSilent, type Logger, pino } from 'pino';

const SECRETS = ['password', 'accessWord', 'secret'];

/** Log of the house on standard error, one JSON line per event; passwords never get into it. */
export function createLog(level: LevelWithSilent): Logger {
  return pino(
    {
      level,
      base: null,
      redact: { paths: SECRETS.flatMap((key) => [key, `*.${key}`, `*.*.${key}`]), remove: true },
    },
    pino.destination({ fd: 2, sync: true }),
  );
}
