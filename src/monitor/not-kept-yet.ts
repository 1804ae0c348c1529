import type { Fact } from './ports/facts.js';

const NOT_KEPT = 'Not on the disk yet, which takes nothing: lost if the power goes before. Make room.';

/** Said when the disk takes again what was held in memory. */
export const KEPT_AFTER_ALL = 'What was answered "not on the disk yet" is on the disk now.';

/** A fact that the disk did not take: an answer that something was done says so. A list of trays has nothing to keep. */
export function notKeptYet(fact: Fact): Fact {
  if (fact.kind !== 'answer' || !fact.answer.ok || fact.answer.trays !== undefined) return fact;
  const { answer } = fact;
  return { kind: 'answer', answer: { ...answer, kept: false, sentence: `${answer.sentence} ${NOT_KEPT}` } };
}
