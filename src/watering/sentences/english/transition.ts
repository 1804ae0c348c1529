import { toPourMl } from '../../../../shared/facts/pour-amount.js';
import { concernsWatchman, type SaidNeed, type SaidTransition } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { partName, partPast, partTrouble, partWell } from './health.js';
import { notLasting, outsideLimits, pouring } from './parts.js';

/** "t1, celery in 38 mm blocks on bench south"; "Bench south". */
function named(words: FarmWords, { kind, of, tray }: SaidTransition): string {
  if (kind === 'temperature') return `Bench ${of}`;
  if (tray === undefined) return `Tray ${of}`;
  const what = tray.crop === undefined ? words.blocks(tray.blockSideMm) : undefined;
  return `${tray.id}, ${what ?? `${tray.crop} in ${words.blocks(tray.blockSideMm)}`} on bench ${tray.benchId}`;
}

function dose(words: FarmWords, need: SaidNeed): string {
  const amountMl = toPourMl(need) ?? 0;
  return amountMl === 0 ? '' : `, about ${words.volume(amountMl)}`;
}

/** What is wrong and what to do, after the name; whole sentences. */
function trouble(words: FarmWords, change: SaidTransition): string {
  const { kind, reason, nowMs, tray } = change;
  const need = change.need ?? {};
  const trays = tray === undefined ? [] : [{ ...tray, ...need }];
  switch (kind) {
    case 'dry':
      return `dry blocks. Water now, in small pours${dose(words, need)}.${pouring(words, trays)}`;
    case 'wet':
      return 'as wet as just watered for too long. Let it dry and give air, or damping-off may come.';
    case 'cover':
      return reason === 'cover-unconfirmed'
        ? 'is the cover still on, and have the seeds germinated? Nobody has said for days.'
        : 'the cover is still on, long after germination. Take it off.';
    case 'temperature':
      return outsideLimits(words, reason, need.temperatureC);
    default: {
      if (reason === 'perhaps-shed-water')
        return 'may have taken up little of its last water, as dry blocks do. Look, and pour again if it is light.';
      const { comingRoundMs } = need;
      const round = comingRoundMs === undefined ? 'the coming round' : words.round(comingRoundMs, nowMs);
      const { verb, when } = notLasting(words, trays, comingRoundMs ?? Number.POSITIVE_INFINITY, nowMs);
      const why = reason === 'due-not-watered' ? 'due and not watered' : `${verb} not last until ${round}`;
      return `${why}. Water it${dose(words, need)}.${pouring(words, trays)}${when}`;
    }
  }
}

const endings: Readonly<Record<string, string>> = {
  watered: 'it was watered',
  'looked-wet': 'somebody looked, and it is wet',
  ended: 'the tray has ended',
  'potted-on': 'it was potted on',
  covered: 'it was covered',
  uncovered: 'the cover is off',
  'taken-back': 'what was told before was taken back',
  'round-over': 'nobody has said whether it was watered at the round; it is looked at anew',
};

const wellAgain: Readonly<Partial<Record<SaidTransition['kind'], string>>> = {
  refill: 'it lasts after all',
  dry: 'its blocks are no longer dry',
  wet: 'it is no longer too wet',
  cover: 'the cover is no longer in question',
  temperature: 'within its limits again',
};

/** Why it is over, after the name. */
function ending({ kind, reason }: SaidTransition): string {
  return `${endings[reason] ?? wellAgain[kind] ?? 'over'}.`;
}

function until(words: FarmWords, { untilMs, nowMs }: SaidTransition): string {
  return untilMs === undefined ? '' : ` until ${words.time(untilMs, nowMs)}`;
}

/** Alarms about the watchman itself: in which state, what is wrong, since when, what to do. */
function partTransition(words: FarmWords, change: SaidTransition): string {
  const by = change.by === undefined ? '' : ` by ${change.by}`;
  const wrong =
    change.sinceMs === undefined ? `${partName(change)}.` : partTrouble(words, change, change.nowMs);
  switch (change.state) {
    case 'unacknowledged':
      return wrong;
    case 'acknowledged':
      return `Seen${by}. ${wrong}`;
    case 'normal':
      return `Done. ${partWell(change)}`;
    case 'returned-to-normal-unacknowledged':
      return `Over, but nobody has seen it. ${partPast(words, change, change.nowMs)}`;
    case 'shelved':
      return `Later${until(words, change)}${by}. ${wrong}`;
    case 'suppressed-by-design':
      return `No call for now. ${partName(change)} is silent with its board.`;
    case 'out-of-service':
      return `Switched off${by}. ${wrong}`;
  }
}

/** One alarm's own sentence: in which state it is, whom it concerns, what is wrong and what to do. */
export function transitionSentence(words: FarmWords, change: SaidTransition): string {
  if (concernsWatchman(change.kind)) return partTransition(words, change);
  const name = named(words, change);
  const by = change.by === undefined ? '' : ` by ${change.by}`;
  const isOver = endings[change.reason] !== undefined;
  const wrong = `${name}: ${isOver ? ending(change) : trouble(words, change)}`;
  const setAside = change.holds ? wrong : `${name}: nothing is wrong now.`;
  switch (change.state) {
    case 'unacknowledged':
      return wrong;
    case 'acknowledged':
      return `Seen${by}. ${wrong}`;
    case 'normal':
      return `Done. ${name}: ${ending(change)}`;
    case 'returned-to-normal-unacknowledged':
      return `Over, but nobody has seen it. ${name}: ${ending(change)}`;
    case 'shelved':
      return `Later${until(words, change)}${by}. ${setAside}`;
    case 'suppressed-by-design':
      return `No call for now. ${wrong}`;
    case 'out-of-service':
      return `Switched off${by}. ${setAside}`;
  }
}
