import type { Fact } from './ports/facts.js';

/** A fact that the disk did not take: an answer that something was done says so. A list of trays has nothing to keep. */
export function notKeptYet(fact: Fact): Fact {
  if (fact.kind !== 'answer' || !fact.answer.ok || fact.answer.trays !== undefined) return fact;
  return { kind: 'answer', answer: { ...fact.answer, kept: false } };
}
