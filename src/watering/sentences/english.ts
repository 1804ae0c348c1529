import type { AlarmKind } from '../../../shared/alarm.js';
import type { DeskSentences, SaidTransition } from './desk-sentences.js';
import { callSentence } from './english-call.js';
import { noticeSentence } from './english-notice.js';
import { isAre, itThey, list } from './english-parts.js';
import type { FarmWords } from './farm-words.js';

const kindWords: Readonly<Record<AlarmKind, string>> = {
  refill: 'needs water before the round',
  dry: 'dry blocks',
  wet: 'wet for too long',
  cover: 'cover',
  probe: 'probe',
  board: 'board',
  monitor: 'watchman',
  store: 'store',
  broker: 'broker',
  temperature: 'temperature',
};

function transition(words: FarmWords, change: SaidTransition): string {
  const name = `${change.of}: ${kindWords[change.kind]}`;
  const by = change.by === undefined ? '' : ` by ${change.by}`;
  switch (change.state) {
    case 'unacknowledged':
      return `Call. ${name}.`;
    case 'acknowledged':
      return change.reason === 'watered' ? `Seen. ${name}: it was watered.` : `Seen${by}. ${name}.`;
    case 'normal':
      return change.reason === 'watered' ? `Done. ${name}: it was watered.` : `Done. ${name}.`;
    case 'returned-to-normal-unacknowledged':
      return `Over, but nobody has seen it. ${name}.`;
    case 'shelved': {
      const until = change.untilMs === undefined ? '' : ` until ${words.time(change.untilMs, change.nowMs)}`;
      return `Later${until}${by}. ${name}.`;
    }
    case 'suppressed-by-design':
      return `No call for now. ${name}.`;
    case 'out-of-service':
      return `Switched off${by}. ${name}.`;
  }
}

/** The desk's sentences in English. */
export function createEnglish(words: FarmWords): DeskSentences {
  return {
    roundNotice: (notice) => noticeSentence(words, notice),
    call: (call) => callSentence(words, call),
    transition: (change) => transition(words, change),
    testCall: (farm, way, bareSeen) =>
      `Test call of ${farm} by ${way}: nothing is wrong. To answer${bareSeen ? ', press "seen" or' : ''} type: drybell call --seen ${way}`,
    ask: (trayIds, benchId, roundMs, nowMs) =>
      `Bench ${benchId}: ${isAre(trayIds.length) === 'is' ? 'was' : 'were'} ${list(trayIds)} watered at the ${words.time(roundMs, nowMs)} round? ${itThey(trayIds.length)} ${isAre(trayIds.length)} carried as perhaps watered until you say.`,
  };
}
