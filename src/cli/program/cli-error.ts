/** A command can't be carried out as it was given; the message says why and what to do. */
export class CliError extends Error {
  override readonly name = 'CliError';
  readonly retryable = false;

  constructor(
    readonly code: 'nothing-saved' | 'file-exists',
    message: string,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}
