import type { SaidCall } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { isAre, list } from './parts.js';

/** One thing that waited, in a few words. */
function waited(words: FarmWords, call: SaidCall): string {
  const { kind, trays, nowMs, of, others } = call;
  const count = trays.length;
  const names = list(trays.map(({ id }) => id));
  const there = `${names} on bench ${trays[0]?.benchId ?? of}`;
  switch (kind) {
    case 'refill':
      return call.reason === 'due-not-watered'
        ? `${there} ${isAre(count)} due and ${count === 1 ? 'has' : 'have'} not been watered`
        : `${there} ${count === 1 ? 'needs' : 'need'} water before ${words.round(call.comingRoundMs, nowMs)}`;
    case 'dry':
      return `${there} ${count === 1 ? 'has' : 'have'} dry blocks`;
    case 'wet':
      return `${there} ${count === 1 ? 'has' : 'have'} been wet for too long`;
    case 'cover':
      return call.reason === 'cover-unconfirmed'
        ? `is the cover still on ${there}?`
        : `the cover is still on ${there}, long after germination`;
    case 'temperature':
      return `bench ${of} is too ${call.reason === 'too-cold' ? 'cold' : 'hot'}`;
    case 'probe':
      return others.length === 0
        ? `probe ${of} is not to be trusted`
        : `probes ${list([of, ...others])} are not to be trusted`;
    case 'board':
      return others.length === 0 ? `board ${of} is not well` : `boards ${list([of, ...others])} are not well`;
    case 'monitor':
      return of === 'clock'
        ? 'the clock of the house was set: look whether it is right'
        : 'the watchman is blind: go and look at the trays';
    case 'store':
      return 'the store is not well';
    case 'broker':
      return 'calls may not have reached you';
  }
}

/** Everything that waited for the end of the quiet hours, in one sentence. */
export function quietSentence(words: FarmWords, parts: readonly SaidCall[]): string {
  return `After the quiet hours: ${parts.map((part) => waited(words, part)).join('; ')}. More on the page.`;
}
