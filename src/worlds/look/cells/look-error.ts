/** A file can't be looked at as it is; the message says what was seen, what was expected and what to say. */
export class LookError extends Error {
  readonly retryable = false;
  constructor(
    readonly code:
      | 'no-table'
      | 'no-time'
      | 'date-order-open'
      | 'no-series'
      | 'bad-option'
      | 'logger-file-unusable',
    message: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}
