/** Why a board's line could not be opened. */
export type BoardOpenCode = 'BOARD_NOT_FOUND' | 'PORT_DENIED' | 'PORT_BUSY' | 'PORT_FAILED';

/** Thrown by whoever opens a board's line; the message says what to do, without a full stop. */
export class BoardOpenError extends Error {
  readonly code: BoardOpenCode;
  readonly retryable = true;

  constructor(code: BoardOpenCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'BoardOpenError';
    this.code = code;
  }
}
