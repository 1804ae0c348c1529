/** What messaging needs of a logger: fields first, then the event's constant name. Pino fits. */
export interface MessagingLog {
  debug(fields: object, event: string): void;
  info(fields: object, event: string): void;
  warn(fields: object, event: string): void;
  error(fields: object, event: string): void;
}
