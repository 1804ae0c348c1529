import type { SaidCall } from './desk-sentences.js';
import { partTrouble } from './english-health.js';
import { dryBy, grouped, isAre, list, pouring, trayTrays, watering } from './english-parts.js';
import { quietSentence } from './english-quiet.js';
import type { FarmWords } from './farm-words.js';

function trayCall(words: FarmWords, call: SaidCall): string {
  const { trays, nowMs } = call;
  const count = trays.length;
  const benches = grouped(trays, (tray) => tray.benchId);
  const names = list(trays.map((tray) => tray.id));
  if (benches.length > 1) {
    const where = benches.map((onBench) => `${onBench.length} on ${onBench[0]?.benchId}`).join(', ');
    const what =
      call.kind === 'dry'
        ? 'have dry blocks'
        : `will not last until the ${words.time(call.comingRoundMs, nowMs)} round`;
    return `${count} trays ${what}: ${where}. First: ${names}.${dryBy(words, trays, nowMs)}`;
  }
  const where = `Bench ${trays[0]?.benchId ?? call.of}`;
  const sizes = grouped(trays, (tray) => String(tray.blockSideMm));
  const what = sizes.map((same) => watering(words, same)).join('; ');
  const which = count === 1 ? '' : ` Trays: ${names}.`;
  switch (call.kind) {
    case 'dry':
      return `${where}: dry blocks. Water now, in small pours: ${what}.${which}${pouring(words, trays)}`;
    case 'wet':
      return `${where}: ${trayTrays(count)} ${names} ${count === 1 ? 'has' : 'have'} stayed as wet as just watered for too long. Let ${count === 1 ? 'it' : 'them'} dry and give air, or damping-off may come.`;
    case 'cover':
      return call.reason === 'cover-unconfirmed'
        ? `${where}: is the cover still on ${trayTrays(count)} ${names}, and have the seeds germinated? Nobody has said for days.`
        : `${where}: the cover is still on ${trayTrays(count)} ${names}, long after germination. Take it off.`;
    default:
      if (call.reason === 'perhaps-shed-water')
        return `${where}: ${names} may have taken up little of ${count === 1 ? 'its' : 'their'} last water, as dry blocks do. Look, and pour again if ${count === 1 ? 'it is' : 'they are'} light.`;
      return call.reason === 'due-not-watered'
        ? `${where}: ${names} ${isAre(count)} due and ${count === 1 ? 'has' : 'have'} not been watered. Water ${what}.${dryBy(words, trays, nowMs)}`
        : `${where}: ${names} will not last until the ${words.time(call.comingRoundMs, nowMs)} round. Water ${what}.${dryBy(words, trays, nowMs)}`;
  }
}

/** A call in plain words: what is wrong, where, what to do. */
export function callSentence(words: FarmWords, call: SaidCall): string {
  if (call.parts !== undefined && call.parts.length > 1) return quietSentence(words, call.parts);
  const again = call.again ? 'Again: ' : '';
  if (call.kind === 'temperature') {
    const reading = call.temperatureC === undefined ? '' : ` (${words.temperature(call.temperatureC)})`;
    return `${again}Bench ${call.of} is too ${call.reason === 'too-cold' ? 'cold' : 'hot'}${reading}.`;
  }
  const said = call.trays.length > 0 ? trayCall(words, call) : partTrouble(words, call, call.nowMs);
  return `${again}${said}`;
}
