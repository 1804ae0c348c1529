import type { DeskSentences } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { englishAnswers } from './answers.js';
import { callSentence } from './call.js';
import { englishHouse } from './house.js';
import { noticeSentence } from './notice.js';
import { isAre, itThey, list } from './parts.js';
import { transitionSentence } from './transition.js';

/** The desk's sentences in English. */
export function createEnglish(words: FarmWords): DeskSentences {
  return {
    roundNotice: (notice) => noticeSentence(words, notice),
    call: (call) => callSentence(words, call),
    transition: (change) => transitionSentence(words, change),
    testCall: ({ farm, way, bareSeen }) =>
      `Test call of ${farm} by ${way}: nothing is wrong. To answer${bareSeen ? ', press "seen" or' : ''} type: drybell call --seen ${way}`,
    ask: ({ trayIds, benchId, roundMs, nowMs }) =>
      `Bench ${benchId}: ${isAre(trayIds.length) === 'is' ? 'was' : 'were'} ${list(trayIds)} watered at ${words.round(roundMs, nowMs)}? ${itThey(trayIds.length)} ${isAre(trayIds.length)} carried as perhaps watered until somebody tells: watered, or how ${trayIds.length === 1 ? 'it looks' : 'they look'}.`,
    answers: englishAnswers(words),
    house: englishHouse,
  };
}
