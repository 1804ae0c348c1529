import type { House } from './house.js';

/** Answers of the reviewer's views; undefined when the path is none of theirs. */
export async function answerReview(_house: House, _url: URL): Promise<unknown> {
  return undefined;
}
