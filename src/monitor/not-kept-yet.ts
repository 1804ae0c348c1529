import type { HouseSentences } from '../watering/sentences/said/house-sentences.js';
import type { Fact } from './ports/facts.js';

/** A fact that the disk did not take: an answer that something was done says so. A list of trays has nothing to keep. */
export function notKeptYet(fact: Fact, say: HouseSentences): Fact {
  if (fact.kind !== 'answer' || !fact.answer.ok || fact.answer.trays !== undefined) return fact;
  const { answer } = fact;
  return {
    kind: 'answer',
    answer: { ...answer, kept: false, sentence: `${answer.sentence} ${say.notKeptYet}` },
  };
}
