import { toPourMl } from '../../../../shared/facts/pour-amount.js';
import type { SaidTray } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { firstOf } from '../words/grouped.js';

/** A lock screen shows about this many names before it cuts. */
const NAMED_TRAYS = 4;

export function list(names: readonly string[]): string {
  if (names.length > NAMED_TRAYS)
    return `${names.slice(0, NAMED_TRAYS - 1).join(', ')} and ${names.length - NAMED_TRAYS + 1} more`;
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
}

export const isAre = (count: number): string => (count === 1 ? 'is' : 'are');
export const itThey = (count: number): string => (count === 1 ? 'It' : 'They');
export const trayTrays = (count: number): string => (count === 1 ? 'tray' : 'trays');

/** "water 3 trays of minis, about 580 mL each"; trays of one size on one bench. */
export function watering(words: FarmWords, trays: readonly SaidTray[]): string {
  const amounts = trays.map((tray) => toPourMl(tray) ?? 0);
  const least = Math.min(...amounts);
  const most = Math.max(...amounts);
  const each = trays.length === 1 ? '' : ' each';
  const dose =
    least === most ? `, about ${words.volume(most)}${each}` : `, ${words.volumes(least, most)}${each}`;
  const [tray] = trays;
  const what = tray === undefined ? '' : words.blocks(tray.blockSideMm);
  const one =
    trays.length === 1 && tray !== undefined
      ? `tray ${tray.id}${tray.crop === undefined ? '' : ` (${tray.crop})`} of ${what}`
      : `${trays.length} trays of ${what}`;
  return `${one}${most === 0 ? '' : dose}`;
}

/** How it is poured, and which trays the pours of one round do not fill. */
export function pouring(words: FarmWords, trays: readonly SaidTray[]): string {
  const plans = trays.flatMap(({ pourPlan }) => (pourPlan === undefined ? [] : [pourPlan]));
  const pours = Math.max(0, ...plans.map((plan) => plan.pours));
  const pourMl = Math.max(0, ...plans.map((plan) => plan.pourMl));
  const soakMin = Math.max(0, ...plans.map((plan) => plan.soakMin));
  const short = trays.filter(({ pourPlan }) => (pourPlan?.shortMl ?? 0) > 0).map(({ id }) => id);
  const rest =
    short.length === 0 ? '' : ` ${trays.length === 1 ? 'It' : list(short)} will not be full after that.`;
  if (pours < 2) return rest;
  const alike = plans.every((plan) => plan.pours === pours && plan.pourMl === pourMl);
  const what = alike
    ? `${pours} pours of ${words.volume(pourMl)}`
    : `Up to ${pours} pours of up to ${words.volume(pourMl)}`;
  return ` ${what}, ${soakMin} min to soak after each, then tip out the rest.${rest}`;
}

/** "too cold (2.0 °C). Close it up or heat it." */
export function outsideLimits(words: FarmWords, reason: string, temperatureC: number | undefined): string {
  const reading = temperatureC === undefined ? '' : ` (${words.temperature(temperatureC)})`;
  return reason === 'too-cold'
    ? `too cold${reading}. Close it up or heat it.`
    : `too hot${reading}. Give air or shade.`;
}

/** When the first of them would be dry. */
export function dryBy(words: FarmWords, trays: readonly SaidTray[], nowMs: number): string {
  const at = firstOf(trays.map(({ dryAtMs }) => dryAtMs));
  if (at === undefined) return '';
  if (at <= nowMs) return trays.length === 1 ? ' It has dry blocks now.' : ' The first have dry blocks now.';
  return ` ${itThey(trays.length)} would be dry at ${words.about(at, nowMs)}.`;
}

/** Will they, or may they, be dry before that round? A call looks at the risk, which may lie before the middle of the forecast. */
export function notLasting(
  words: FarmWords,
  trays: readonly SaidTray[],
  roundMs: number,
  nowMs: number,
): { readonly verb: 'will' | 'may'; readonly when: string } {
  const middleMs = firstOf(trays.map(({ dryAtMs }) => dryAtMs));
  if (middleMs !== undefined && middleMs <= roundMs)
    return { verb: 'will', when: dryBy(words, trays, nowMs) };
  const earliestMs = firstOf(trays.map(({ earliestDryAtMs }) => earliestDryAtMs));
  if (earliestMs === undefined || earliestMs > roundMs || earliestMs <= nowMs)
    return { verb: 'may', when: '' };
  return {
    verb: 'may',
    when: ` ${itThey(trays.length)} may be dry as early as ${words.about(earliestMs, nowMs)}.`,
  };
}
