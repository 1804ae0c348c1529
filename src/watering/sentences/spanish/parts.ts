import { toPourMl } from '../../../../shared/facts/pour-amount.js';
import type { SaidTray } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { firstOf } from '../words/grouped.js';

/** A lock screen shows about this many names before it cuts. */
const NAMED_TRAYS = 4;

export function list(names: readonly string[]): string {
  if (names.length > NAMED_TRAYS)
    return `${names.slice(0, NAMED_TRAYS - 1).join(', ')} y ${names.length - NAMED_TRAYS + 1} más`;
  const last = names.at(-1) ?? '';
  if (names.length < 2) return last;
  return `${names.slice(0, -1).join(', ')} ${/^h?i(?!e)/i.test(last) ? 'e' : 'y'} ${last}`;
}

/** One of two forms by count. */
export const form = (count: number, one: string, many: string): string => (count === 1 ? one : many);
export const bandejas = (count: number): string => form(count, 'bandeja', 'bandejas');

/** "3 bandejas de minis, unos 580 mL cada una"; trays of one size on one bench. */
export function watering(words: FarmWords, trays: readonly SaidTray[]): string {
  const amounts = trays.map((tray) => toPourMl(tray) ?? 0);
  const least = Math.min(...amounts);
  const most = Math.max(...amounts);
  const each = form(trays.length, '', ' cada una');
  const dose =
    least === most ? `, unos ${words.volume(most)}${each}` : `, ${words.volumes(least, most)}${each}`;
  const [tray] = trays;
  const what = tray === undefined ? '' : words.blocks(tray.blockSideMm);
  const one =
    trays.length === 1 && tray !== undefined
      ? `la bandeja ${tray.id}${tray.crop === undefined ? '' : ` (${tray.crop})`} de ${what}`
      : `${trays.length} bandejas de ${what}`;
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
    short.length === 0
      ? ''
      : ` Después ${trays.length === 1 ? 'no quedará llena' : `${list(short)} no ${form(short.length, 'quedará llena', 'quedarán llenas')}`}.`;
  if (pours < 2) return rest;
  const alike = plans.every((plan) => plan.pours === pours && plan.pourMl === pourMl);
  const what = alike
    ? `${pours} veces ${words.volume(pourMl)}`
    : `Hasta ${pours} veces, cada una de hasta ${words.volume(pourMl)}`;
  return ` ${what}, con ${soakMin} min para absorber después de cada una; luego vacíe lo que sobre.${rest}`;
}

export function outsideLimits(words: FarmWords, reason: string, temperatureC: number | undefined): string {
  const reading = temperatureC === undefined ? '' : ` (${words.temperature(temperatureC)})`;
  return reason === 'too-cold'
    ? `demasiado frío${reading}. Cierre o dé calor.`
    : `demasiado calor${reading}. Ventile o dé sombra.`;
}

/** When the first of them would be dry. */
export function dryBy(words: FarmWords, trays: readonly SaidTray[], nowMs: number): string {
  const at = firstOf(trays.map(({ dryAtMs }) => dryAtMs));
  if (at === undefined) return '';
  if (at <= nowMs)
    return form(trays.length, ' Tiene bloques secos ya.', ' Las primeras tienen bloques secos ya.');
  return ` ${form(trays.length, 'Se secaría', 'Se secarían')} ${words.about(at, nowMs)}.`;
}

/** Will they, or may they, be dry before that round? As in English: the risk may lie before the middle of the forecast. */
export function notLasting(
  words: FarmWords,
  trays: readonly SaidTray[],
  roundMs: number,
  nowMs: number,
): { readonly verb: string; readonly when: string } {
  const many = trays.length !== 1;
  const will = many ? 'no aguantarán' : 'no aguantará';
  const may = many ? 'quizá no aguanten' : 'quizá no aguante';
  const middleMs = firstOf(trays.map(({ dryAtMs }) => dryAtMs));
  if (middleMs !== undefined && middleMs <= roundMs) return { verb: will, when: dryBy(words, trays, nowMs) };
  const earliestMs = firstOf(trays.map(({ earliestDryAtMs }) => earliestDryAtMs));
  if (earliestMs === undefined || earliestMs > roundMs || earliestMs <= nowMs) return { verb: may, when: '' };
  return {
    verb: may,
    when: ` ${many ? 'Pueden secarse' : 'Puede secarse'} ya ${words.about(earliestMs, nowMs)}.`,
  };
}
