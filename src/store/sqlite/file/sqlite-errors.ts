import { StoreError, type StoreErrorCode } from '../../both/store-error.js';

interface Verdict {
  readonly code: StoreErrorCode;
  readonly retryable: boolean;
  readonly remedy: string;
}

const verdicts: readonly (readonly [prefix: string, verdict: Verdict])[] = [
  [
    'SQLITE_FULL',
    {
      code: 'disk-full',
      retryable: true,
      remedy:
        'the disk is full; make room: a monitor that runs goes on by itself, one that ended is to be started again',
    },
  ],
  [
    'SQLITE_IOERR',
    { code: 'disk-full', retryable: true, remedy: 'the disk does not take data; check card, cable and room' },
  ],
  [
    'SQLITE_READONLY',
    {
      code: 'read-only',
      retryable: true,
      remedy: 'the file or its folder is read-only; give the service write permission',
    },
  ],
  [
    'SQLITE_CANTOPEN',
    { code: 'read-only', retryable: true, remedy: 'the file cannot be opened; check folder and permissions' },
  ],
  ['SQLITE_BUSY', { code: 'in-use', retryable: true, remedy: 'another program holds the database; stop it' }],
  [
    'SQLITE_LOCKED',
    { code: 'in-use', retryable: true, remedy: 'another program holds the database; stop it' },
  ],
  [
    'SQLITE_CORRUPT',
    {
      code: 'corrupt',
      retryable: false,
      remedy: 'the file is damaged; run "drybell store-check", then restore a backup',
    },
  ],
  [
    'SQLITE_NOTADB',
    {
      code: 'corrupt',
      retryable: false,
      remedy: 'the file is damaged or no database; restore a backup or move it away',
    },
  ],
];

/** SQLite's error as ours, with what to do; anything that is not SQLite's is a mistake of ours and goes on unchanged. */
export function toStoreError(doing: string, cause: unknown): unknown {
  const code = sqliteCode(cause);
  if (code === undefined || !(cause instanceof Error)) return cause;
  const verdict = verdicts.find(([prefix]) => code.startsWith(prefix))?.[1];
  if (verdict === undefined) return cause;
  return new StoreError(verdict.code, `Cannot ${doing}: ${verdict.remedy} (${code})`, {
    retryable: verdict.retryable,
    cause,
  });
}

function sqliteCode(cause: unknown): string | undefined {
  if (!(cause instanceof Error) || !('code' in cause)) return undefined;
  return typeof cause.code === 'string' && cause.code.startsWith('SQLITE_') ? cause.code : undefined;
}

/** What came of the work; undefined when the disk had no room for it. */
export function unlessDiskIsFull<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch (cause) {
    const problem = toStoreError('write to the store', cause);
    if (problem instanceof StoreError && problem.code === 'disk-full') return undefined;
    throw problem;
  }
}
