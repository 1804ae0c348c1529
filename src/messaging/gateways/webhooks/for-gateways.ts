import type { DurableMessage } from '../../outbox/fact-messages.js';

/** What concerns a gateway, by the type that its posts say. */
const posted: ReadonlySet<DurableMessage['kind']> = new Set(['alarm', 'call', 'round', 'ask', 'test-call']);
/** What waits beside it and is never posted: notices and questions are judged by it when they are sent. */
const judgedBy: ReadonlySet<DurableMessage['kind']> = new Set(['watering', 'tray-event']);

/** A message of the broker as it waits for a webhook; undefined: it is nothing to it. */
export function forGateways(told: DurableMessage): DurableMessage | undefined {
  if (told.payload === '' || !(posted.has(told.kind) || judgedBy.has(told.kind))) return undefined;
  return { ...told, topic: told.kind, retain: false };
}

/** True for what is not posted: what others are judged by, and a call that is over. */
export function staysHere({ kind, payload }: Pick<DurableMessage, 'kind' | 'payload'>): boolean {
  if (judgedBy.has(kind)) return true;
  return kind === 'call' && (JSON.parse(payload) as { over?: boolean }).over === true;
}
