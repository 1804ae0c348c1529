import type { MessagingLog } from '../../src/messaging/messaging-log.js';

const ignore = () => undefined;

/** A log that says nothing. */
export const quietLog: MessagingLog = { debug: ignore, info: ignore, warn: ignore, error: ignore };
