/** How a command talks with the person at the bench; scripted in tests, and absent when answers come as options. */
export interface Dialogue {
  say(text: string): void;
  /** The answer without blanks around it; undefined when nobody answers (end of input). */
  ask(question: string): Promise<string | undefined>;
}

/** A number as people type it: `14.2`, `14,2`, `14.2 g`. Undefined when it is none. */
export function typedNumber(text: string): number | undefined {
  const match = /^([+-]?\d+(?:[.,]\d+)?)\s*(g|mm|V)?$/i.exec(text.trim());
  return match?.[1] === undefined ? undefined : Number(match[1].replace(',', '.'));
}
