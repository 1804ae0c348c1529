import { InfluxDB } from 'influx';
import { StoreError } from '../both/store-error.js';
import { StatementError } from './rows.js';

/** Where the server is and who asks. */
export interface InfluxServer {
  readonly url: string;
  readonly database: string;
  readonly username?: string | undefined;
  readonly password?: string | undefined;
  readonly requestTimeoutS: number;
}

/** What a failed request means for what was sent. */
export type Failure =
  /** The server was not reached or is not well: the same request may succeed later. */
  | { readonly kind: 'away'; readonly reason: string }
  /** The server is there and does not know the database. */
  | { readonly kind: 'no-database'; readonly reason: string }
  /** The server is there and does not let us in. */
  | { readonly kind: 'not-allowed'; readonly reason: string }
  /** The server does not take the content; sending it again would not help. */
  | { readonly kind: 'content'; readonly reason: string };

/** Our own drain decides when to try again: the client neither repeats requests nor shuts the host out for a while. */
const noBackOff = {
  getDelay: () => 0,
  next: () => noBackOff,
  reset: () => noBackOff,
};

export function connect(server: InfluxServer): InfluxDB {
  const url = new URL(server.url);
  const isSecure = url.protocol === 'https:';
  return new InfluxDB({
    host: url.hostname,
    port: Number(url.port || (isSecure ? 443 : 80)),
    protocol: isSecure ? 'https' : 'http',
    ...(url.pathname === '/' ? {} : { path: url.pathname.replace(/\/$/, '') }),
    database: server.database,
    ...(server.username === undefined ? {} : { username: server.username, password: server.password ?? '' }),
    pool: { maxRetries: 0, requestTimeout: server.requestTimeoutS * 1000, backoff: noBackOff },
  });
}

/** Sorts a failed request; anything that did not come from the request goes on as it is. */
export function judgeFailure(cause: unknown): Failure {
  if (!(cause instanceof Error)) throw cause;
  const status = statusOf(cause);
  const reason = cause.message;
  if (cause instanceof StatementError) return { kind: 'content', reason };
  if (status === 404) return { kind: 'no-database', reason };
  if (status === 401 || status === 403) return { kind: 'not-allowed', reason };
  if (status === 400 || status === 413) return { kind: 'content', reason };
  if (cause instanceof TypeError || cause instanceof RangeError) throw cause;
  return { kind: 'away', reason };
}

function statusOf(cause: Error): number | undefined {
  if (!('res' in cause)) return undefined;
  const status: unknown = Object(cause.res).statusCode;
  return typeof status === 'number' ? status : undefined;
}

/** The failure of a question, for whoever asked it. */
export function questionError(cause: unknown, server: InfluxServer): StoreError {
  const failure = judgeFailure(cause);
  const where = `InfluxDB at ${server.url}, database "${server.database}"`;
  if (failure.kind === 'away')
    return new StoreError(
      'database-away',
      `Cannot ask ${where}: it does not answer (${failure.reason}). Look whether it runs, and whether store.influx.url is its address.`,
      {
        retryable: true,
        cause,
      },
    );
  return new StoreError(
    'refused',
    `Cannot ask ${where}: ${failure.reason}. Check url, database, username and password under store.influx.`,
    { cause },
  );
}
