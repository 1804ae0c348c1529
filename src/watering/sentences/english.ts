import type { AlarmKind } from '../../../shared/alarm.js';
import type { DeskSentences, SaidTransition } from './desk-sentences.js';
import { callSentence } from './english-call.js';
import { concernsWatchman, partName, partPast, partTrouble, partWell } from './english-health.js';
import { noticeSentence } from './english-notice.js';
import { isAre, itThey, list } from './english-parts.js';
import type { FarmWords } from './farm-words.js';

const kindWords: Readonly<Partial<Record<AlarmKind, string>>> = {
  refill: 'needs water before the round',
  dry: 'dry blocks',
  wet: 'wet for too long',
  cover: 'cover',
  temperature: 'temperature',
};

/** Alarms about the watchman itself: in which state, what is wrong, since when, what to do. */
function partTransition(words: FarmWords, change: SaidTransition): string {
  const by = change.by === undefined ? '' : ` by ${change.by}`;
  const trouble =
    change.sinceMs === undefined ? `${partName(change)}.` : partTrouble(words, change, change.nowMs);
  switch (change.state) {
    case 'unacknowledged':
      return trouble;
    case 'acknowledged':
      return `Seen${by}. ${trouble}`;
    case 'normal':
      return `Done. ${partWell(change)}`;
    case 'returned-to-normal-unacknowledged':
      return `Over, but nobody has seen it. ${partPast(words, change, change.nowMs)}`;
    case 'shelved': {
      const until = change.untilMs === undefined ? '' : ` until ${words.time(change.untilMs, change.nowMs)}`;
      return `Later${until}${by}. ${trouble}`;
    }
    case 'suppressed-by-design':
      return `No call for now. ${partName(change)} is silent with its board.`;
    case 'out-of-service':
      return `Switched off${by}. ${trouble}`;
  }
}

function transition(words: FarmWords, change: SaidTransition): string {
  if (concernsWatchman(change.kind)) return partTransition(words, change);
  const name = `${change.of}: ${kindWords[change.kind] ?? change.kind}`;
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
