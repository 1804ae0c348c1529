import { type SaidCall, SEVERAL_REASONS } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { grouped } from '../words/grouped.js';
import { partTrouble } from './health.js';
import { isAre, list, notLasting, outsideLimits, pouring, trayTrays, watering } from './parts.js';
import { quietSentence } from './quiet.js';

/** What trays on several benches need, in half a sentence. */
function whatTheyNeed(words: FarmWords, { trays, kind, reason, comingRoundMs, nowMs }: SaidCall): string {
  const count = trays.length;
  const round = words.round(comingRoundMs, nowMs);
  const dry = trays.filter(({ isDry }) => isDry === true).length;
  if (kind === 'dry' && dry < count && dry > 0) {
    const others = count - dry === 1 ? 'the other needs' : 'the others need';
    return `${dry} of ${count} trays ${dry === 1 ? 'has' : 'have'} dry blocks, ${others} water before ${round}`;
  }
  if (kind === 'dry') return `${count} trays have dry blocks`;
  return reason === 'will-not-reach-round'
    ? `${count} trays ${notLasting(words, trays, comingRoundMs, nowMs).verb} not last until ${round}`
    : `${count} trays need water before ${round}`;
}

/** When they would be dry, where some are not yet. */
function when(words: FarmWords, { trays, kind, comingRoundMs, nowMs }: SaidCall): string {
  return kind === 'dry' ? '' : notLasting(words, trays, comingRoundMs, nowMs).when;
}

/** A call about trays that will not reach the round, or were due and not watered. */
function refillCall(words: FarmWords, where: string, what: string, call: SaidCall): string {
  const { trays, comingRoundMs, nowMs, reason } = call;
  const count = trays.length;
  const names = list(trays.map((tray) => tray.id));
  const water = `Water ${what}.${pouring(words, trays)}${when(words, call)}`;
  const round = words.round(comingRoundMs, nowMs);
  switch (reason) {
    case 'perhaps-shed-water':
      return `${where}: ${names} may have taken up little of ${count === 1 ? 'its' : 'their'} last water, as dry blocks do. Look, and pour again if ${count === 1 ? 'it is' : 'they are'} light.`;
    case 'due-not-watered':
      return `${where}: ${names} ${isAre(count)} due and ${count === 1 ? 'has' : 'have'} not been watered. ${water}`;
    case SEVERAL_REASONS:
      return `${where}: ${names} need water before ${round}. ${water}`;
    default:
      return `${where}: ${names} ${notLasting(words, trays, comingRoundMs, nowMs).verb} not last until ${round}. ${water}`;
  }
}

function trayCall(words: FarmWords, call: SaidCall): string {
  const { trays } = call;
  const count = trays.length;
  const benches = grouped(trays, (tray) => tray.benchId);
  const names = list(trays.map((tray) => tray.id));
  if (benches.length > 1) {
    const places = benches.map((onBench) => `${onBench.length} on ${onBench[0]?.benchId}`).join(', ');
    return `${whatTheyNeed(words, call)}: ${places}. First: ${names}.${when(words, call)}`;
  }
  const where = `Bench ${trays[0]?.benchId ?? call.of}`;
  const sizes = grouped(trays, (tray) => String(tray.blockSideMm));
  const what = sizes.map((same) => watering(words, same)).join('; ');
  const which = count === 1 ? '' : ` Trays: ${names}.`;
  switch (call.kind) {
    case 'dry': {
      const dry = trays.filter(({ isDry }) => isDry === true).map(({ id }) => id);
      const inWhich = dry.length === 0 || dry.length === count ? '' : ` in ${list(dry)}`;
      return `${where}: dry blocks${inWhich}. Water now, in small pours: ${what}.${which}${pouring(words, trays)}`;
    }
    case 'wet':
      return `${where}: ${trayTrays(count)} ${names} ${count === 1 ? 'has' : 'have'} stayed as wet as just watered for too long. Let ${count === 1 ? 'it' : 'them'} dry and give air, or damping-off may come.`;
    case 'cover':
      return call.reason === 'cover-unconfirmed'
        ? `${where}: is the cover still on ${trayTrays(count)} ${names}, and have the seeds germinated? Nobody has said for days.`
        : `${where}: the cover is still on ${trayTrays(count)} ${names}, long after germination. Take it off.`;
    default:
      return refillCall(words, where, what, call);
  }
}

/** A call in plain words: what is wrong, where, what to do. */
export function callSentence(words: FarmWords, call: SaidCall): string {
  if (call.parts !== undefined && call.parts.length > 1) return quietSentence(words, call.parts);
  const again = call.again ? 'Again: ' : '';
  if (call.kind === 'temperature')
    return `${again}Bench ${call.of} is ${outsideLimits(words, call.reason, call.temperatureC)}`;
  const said = call.trays.length > 0 ? trayCall(words, call) : partTrouble(words, call, call.nowMs);
  return `${again}${said}`;
}
