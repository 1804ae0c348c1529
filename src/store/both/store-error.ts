/** Why a store did not do what it was asked; tests and callers look at the code, never at the prose. */
export type StoreErrorCode =
  | 'folder-missing'
  | 'read-only'
  | 'corrupt'
  | 'garbled'
  | 'newer-version'
  | 'older-version'
  | 'in-use'
  | 'disk-full'
  | 'not-a-store'
  | 'no-backup'
  | 'held-back'
  | 'closed'
  | 'backup-exists'
  | 'store-exists'
  | 'database-away'
  | 'refused';

export class StoreError extends Error {
  override readonly name = 'StoreError';
  readonly code: StoreErrorCode;
  /** Whether the same call may succeed later without anybody doing anything. */
  readonly retryable: boolean;

  constructor(code: StoreErrorCode, message: string, options: { retryable?: boolean; cause?: unknown } = {}) {
    super(message, { cause: options.cause });
    this.code = code;
    this.retryable = options.retryable ?? false;
  }
}
