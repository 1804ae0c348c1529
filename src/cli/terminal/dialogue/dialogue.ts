/** How a command talks with the person at the bench; scripted in tests, and absent when answers come as options. */
export interface Dialogue {
  say(text: string): void;
  /** The answer without blanks around it; undefined when nobody answers (end of input). */
  ask(question: string): Promise<string | undefined>;
}
