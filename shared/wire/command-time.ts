/** Commands that count from the moment they are told. All others tell what happened, and may say `at`. */
export const AS_OF_NOW = [
  'away',
  'back',
  'acknowledge',
  'test-call',
  'test-seen',
  'shelve',
  'unshelve',
  'out-of-service',
  'in-service',
  'undo',
  'list-trays',
] as const;
export type AsOfNowName = (typeof AS_OF_NOW)[number];

const asOfNow: ReadonlySet<string> = new Set(AS_OF_NOW);

/** A command that was held up, with the time it was told at where it can say one and does not (RFC 3339). */
export function toldAt<Told extends { readonly do: string }>(command: Told, at: string): Told {
  return asOfNow.has(command.do) ? command : { at, ...command };
}
