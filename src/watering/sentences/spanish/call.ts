import { type SaidCall, SEVERAL_REASONS } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { grouped } from '../words/grouped.js';
import { partTrouble } from './health.js';
import { bandejas, form, list, notLasting, outsideLimits, pouring, watering } from './parts.js';

/** What trays on several benches need, in half a sentence. */
function whatTheyNeed(words: FarmWords, { trays, kind, reason, comingRoundMs, nowMs }: SaidCall): string {
  const count = trays.length;
  const round = words.round(comingRoundMs, nowMs);
  const dry = trays.filter(({ isDry }) => isDry === true).length;
  if (kind === 'dry' && dry < count && dry > 0)
    return `${dry} de ${count} bandejas ${form(dry, 'tiene', 'tienen')} bloques secos, ${form(count - dry, 'la otra necesita', 'las otras necesitan')} agua antes de ${round}`;
  if (kind === 'dry') return `${count} bandejas tienen bloques secos`;
  return reason === 'will-not-reach-round'
    ? `${count} bandejas ${notLasting(words, trays, comingRoundMs, nowMs).verb} hasta ${round}`
    : `${count} bandejas necesitan agua antes de ${round}`;
}

function when(words: FarmWords, { trays, kind, comingRoundMs, nowMs }: SaidCall): string {
  return kind === 'dry' ? '' : notLasting(words, trays, comingRoundMs, nowMs).when;
}

function refillCall(words: FarmWords, where: string, what: string, call: SaidCall): string {
  const { trays, comingRoundMs, nowMs, reason } = call;
  const count = trays.length;
  const names = list(trays.map((tray) => tray.id));
  const water = `Riegue ${what}.${pouring(words, trays)}${when(words, call)}`;
  const round = words.round(comingRoundMs, nowMs);
  switch (reason) {
    case 'perhaps-shed-water':
      return `${where}: ${names} quizá ${form(count, 'absorbió', 'absorbieron')} poco de su último riego, como hacen los bloques secos. Mire, y eche agua otra vez si ${form(count, 'pesa', 'pesan')} poco.`;
    case 'due-not-watered':
      return `${where}: tocaba regar ${names} y no se ${form(count, 'ha regado', 'han regado')}. ${water}`;
    case SEVERAL_REASONS:
      return `${where}: ${names} ${form(count, 'necesita', 'necesitan')} agua antes de ${round}. ${water}`;
    default:
      return `${where}: ${names} ${notLasting(words, trays, comingRoundMs, nowMs).verb} hasta ${round}. ${water}`;
  }
}

function trayCall(words: FarmWords, call: SaidCall): string {
  const { trays } = call;
  const count = trays.length;
  const benches = grouped(trays, (tray) => tray.benchId);
  const names = list(trays.map((tray) => tray.id));
  if (benches.length > 1) {
    const places = benches.map((onBench) => `${onBench.length} en ${onBench[0]?.benchId}`).join(', ');
    return `${whatTheyNeed(words, call)}: ${places}. Primero: ${names}.${when(words, call)}`;
  }
  const where = `Mesa ${trays[0]?.benchId ?? call.of}`;
  const sizes = grouped(trays, (tray) => String(tray.blockSideMm));
  const what = sizes.map((same) => watering(words, same)).join('; ');
  const which = count === 1 ? '' : ` Bandejas: ${names}.`;
  const the = form(count, 'la', 'las');
  switch (call.kind) {
    case 'dry': {
      const dry = trays.filter(({ isDry }) => isDry === true).map(({ id }) => id);
      const inWhich = dry.length === 0 || dry.length === count ? '' : ` en ${list(dry)}`;
      return `${where}: bloques secos${inWhich}. Riegue ahora, poco a poco: ${what}.${which}${pouring(words, trays)}`;
    }
    case 'wet':
      return `${where}: ${the} ${bandejas(count)} ${names} ${form(count, 'lleva', 'llevan')} demasiado tiempo tan ${form(count, 'húmeda', 'húmedas')} como recién ${form(count, 'regada', 'regadas')}. Deje secar y ventile, o puede venir la caída de plántulas.`;
    case 'cover':
      return call.reason === 'cover-unconfirmed'
        ? `${where}: ¿sigue puesta la cubierta en ${the} ${bandejas(count)} ${names}, y han germinado las semillas? Nadie lo ha dicho en días.`
        : `${where}: la cubierta sigue puesta en ${the} ${bandejas(count)} ${names}, mucho después de germinar. Quítela.`;
    default:
      return refillCall(words, where, what, call);
  }
}

/** One thing that waited for the end of the quiet hours, in a few words. */
function waited(words: FarmWords, call: SaidCall): string {
  const { kind, trays, nowMs, of, others } = call;
  const count = trays.length;
  const names = list(trays.map(({ id }) => id));
  const there = `${names} en la mesa ${trays[0]?.benchId ?? of}`;
  switch (kind) {
    case 'refill':
      return call.reason === 'due-not-watered'
        ? `tocaba regar ${there} y no se ${form(count, 'ha regado', 'han regado')}`
        : `${there} ${form(count, 'necesita', 'necesitan')} agua antes de ${words.round(call.comingRoundMs, nowMs)}`;
    case 'dry':
      return `${there} ${form(count, 'tiene', 'tienen')} bloques secos`;
    case 'wet':
      return `${there} ${form(count, 'lleva', 'llevan')} demasiado tiempo con demasiada agua`;
    case 'cover':
      return call.reason === 'cover-unconfirmed'
        ? `¿sigue puesta la cubierta en ${there}?`
        : `la cubierta sigue puesta en ${there}, mucho después de germinar`;
    case 'temperature':
      return `la mesa ${of} tiene demasiado ${call.reason === 'too-cold' ? 'frío' : 'calor'}`;
    case 'probe':
      return others.length === 0
        ? `la sonda ${of} no es de fiar`
        : `las sondas ${list([of, ...others])} no son de fiar`;
    case 'board':
      return others.length === 0
        ? `la placa ${of} no está bien`
        : `las placas ${list([of, ...others])} no están bien`;
    case 'monitor':
      return of === 'clock'
        ? 'el reloj de la casa cambió de golpe: mire si va bien'
        : 'el vigilante está ciego: vaya a mirar las bandejas';
    case 'store':
      return 'el almacén de datos no está bien';
    case 'broker':
      return 'puede que no le hayan llegado llamadas';
  }
}

/** A call in plain words: what is wrong, where, what to do. */
export function callSentence(words: FarmWords, call: SaidCall): string {
  if (call.parts !== undefined && call.parts.length > 1)
    return `Tras las horas de silencio: ${call.parts.map((part) => waited(words, part)).join('; ')}. Más en la página.`;
  const again = call.again ? 'Otra vez: ' : '';
  if (call.kind === 'temperature')
    return `${again}Mesa ${call.of}: ${outsideLimits(words, call.reason, call.temperatureC)}`;
  const said = call.trays.length > 0 ? trayCall(words, call) : partTrouble(words, call, call.nowMs);
  return `${again}${said}`;
}
