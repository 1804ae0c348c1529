/** Stable codes of what can go wrong when messaging is set up. */
export type MessagingErrorCode =
  | 'port-taken'
  | 'address-unusable'
  | 'open-to-everyone'
  | 'file-unreadable'
  | 'folder-in-use'
  | 'outbox-unusable'
  | 'no-monitor'
  | 'several-farms'
  | 'no-answer'
  | 'refused-by-broker';

/** An operational failure at the rim of messaging; the message says what to do. */
export class MessagingError extends Error {
  override readonly name = 'MessagingError';
  readonly code: MessagingErrorCode;
  readonly retryable: boolean;

  constructor(
    code: MessagingErrorCode,
    message: string,
    options: { cause?: unknown; retryable?: boolean } = {},
  ) {
    super(message, options.cause === undefined ? {} : { cause: options.cause });
    this.code = code;
    this.retryable = options.retryable ?? false;
  }
}

/** Code of a Node or library error such as ECONNREFUSED; empty when it has none. */
export function errorCode(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}

export function errorText(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
