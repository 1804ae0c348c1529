import type { MessagingLog } from '../../src/messaging/wire/messaging-log.js';

const ignore = () => undefined;

/** A log that says nothing. */
export const quietLog: MessagingLog = { debug: ignore, info: ignore, warn: ignore, error: ignore };

export interface HeardEvent {
  readonly event: string;
  readonly fields: object;
}

/** A log that remembers, so that a test can wait for what was noticed. */
export function rememberingLog(): { readonly log: MessagingLog; readonly events: readonly HeardEvent[] } {
  const events: HeardEvent[] = [];
  const remember = (fields: object, event: string) => events.push({ event, fields });
  return { log: { debug: remember, info: remember, warn: remember, error: remember }, events };
}
