import type { AnswerSentences } from './answer-sentences.js';
import type { HouseSentences } from './house-sentences.js';

type Table = AnswerSentences & HouseSentences;

/**
 * A sentence as data: its name among the farm's sentences, and what it is made of. JSON-able; `sayIn` makes the words of it where it leaves
 * the house.
 */
export type Said = {
  readonly [Name in keyof Table]: readonly [Name, ...Parameters<Table[Name]>];
}[keyof Table];
