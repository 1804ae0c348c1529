/** Something typed on the command line that cannot be used; the message says what was expected. */
export class BadWord extends Error {
  override readonly name = 'BadWord';
  readonly code = 'bad-word';
  readonly retryable = false;
}

/** A number from the command line. Throws BadWord. */
export function readNumber(text: string, name: string, example: string): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value))
    throw new BadWord(`${name} "${text}": expected a number such as ${example}`);
  return value;
}
