import { toPourMl } from '../../../../shared/facts/pour-amount.js';
import {
  concernsWatchman,
  type DeskSentences,
  type SaidNotice,
  type SaidTransition,
} from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { grouped } from '../words/grouped.js';
import { spanishAnswers } from './answers.js';
import { callSentence } from './call.js';
import { bare, begun } from './forms.js';
import { partName, partPast, partTrouble, partWell } from './health.js';
import { spanishHouse } from './house.js';
import { bandejas, dryBy, form, list, notLasting, outsideLimits, pouring, watering } from './parts.js';

/** "Ronda de las 18:00". */
const roundTitle = (words: FarmWords, roundMs: number, nowMs: number): string =>
  begun(words.round(roundMs, nowMs).replace(/^la /, ''));

function noticeSentence(words: FarmWords, notice: SaidNotice): string {
  const { nowMs } = notice;
  const round = roundTitle(words, notice.roundMs, nowMs);
  const away =
    notice.awayUntilMs === undefined
      ? ''
      : ` Usted está fuera hasta ${bare(words.time(notice.awayUntilMs, nowMs))}.`;
  if (notice.due.length === 0) {
    const next = [...notice.waiting].sort((a, b) => a.untilRoundMs - b.untilRoundMs)[0];
    const count = notice.waiting.filter((one) => one.untilRoundMs === next?.untilRoundMs).length;
    const later =
      next === undefined
        ? ''
        : ` Próximas: ${count} ${bandejas(count)} ${words.time(next.untilRoundMs, nowMs)}.`;
    const nothing = notice.isWithoutTrays === true ? 'no hay bandejas en las mesas' : 'nada que regar';
    return `${round}: ${nothing}.${later}${away}`;
  }
  const parts = grouped(notice.due, (tray) => tray.benchId).map((onBench) => {
    const sizes = grouped(onBench, (tray) => String(tray.blockSideMm));
    const what = sizes.map((trays) => watering(words, trays)).join('; ');
    const unnamed = sizes.filter((trays) => trays.length > 1).flat();
    const names = unnamed.length === 0 ? '' : ` Bandejas: ${list(unnamed.map(({ id }) => id))}.`;
    return `Mesa ${onBench[0]?.benchId ?? ''}, ${round.toLowerCase()}: riegue ${what}.${pouring(words, onBench)}${dryBy(words, onBench, nowMs)}${names}`;
  });
  const unsure = notice.due.filter((tray) => tray.perhapsWatered === true).map((tray) => tray.id);
  const look =
    unsure.length === 0
      ? ''
      : ` Mire antes de echar agua: nadie dijo si se ${form(unsure.length, 'regó', 'regaron')} ${list(unsure)}.`;
  return `${parts.join(' ')}${look}${away}`;
}

/** "t1, apio en bloques de 38 mm en la mesa sur"; "Mesa sur". */
function named(words: FarmWords, { kind, of, tray }: SaidTransition): string {
  if (kind === 'temperature') return `Mesa ${of}`;
  if (tray === undefined) return `Bandeja ${of}`;
  const blocks = words.blocks(tray.blockSideMm);
  return `${tray.id}, ${tray.crop === undefined ? blocks : `${tray.crop} en ${blocks}`}, mesa ${tray.benchId}`;
}

function trouble(words: FarmWords, change: SaidTransition): string {
  const { kind, reason, nowMs, tray } = change;
  const need = change.need ?? {};
  const trays = tray === undefined ? [] : [{ ...tray, ...need }];
  const amountMl = toPourMl(need) ?? 0;
  const dose = amountMl === 0 ? '' : `, unos ${words.volume(amountMl)}`;
  switch (kind) {
    case 'dry':
      return `bloques secos. Riegue ahora, poco a poco${dose}.${pouring(words, trays)}`;
    case 'wet':
      return 'demasiado tiempo tan húmeda como recién regada. Déjela secar y ventile, o puede venir la caída de plántulas.';
    case 'cover':
      return reason === 'cover-unconfirmed'
        ? '¿sigue puesta la cubierta, y han germinado las semillas? Nadie lo ha dicho en días.'
        : 'la cubierta sigue puesta mucho después de germinar. Quítela.';
    case 'temperature':
      return outsideLimits(words, reason, need.temperatureC);
    default: {
      if (reason === 'perhaps-shed-water')
        return 'quizá absorbió poco de su último riego, como hacen los bloques secos. Mírela, y eche agua otra vez si pesa poco.';
      const { comingRoundMs } = need;
      const round = comingRoundMs === undefined ? 'la próxima ronda' : words.round(comingRoundMs, nowMs);
      const { verb, when } = notLasting(words, trays, comingRoundMs ?? Number.POSITIVE_INFINITY, nowMs);
      const why = reason === 'due-not-watered' ? 'tocaba regarla y no se regó' : `${verb} hasta ${round}`;
      return `${why}. Riéguela${dose}.${pouring(words, trays)}${when}`;
    }
  }
}

const ENDINGS: Readonly<Record<string, string>> = {
  watered: 'se regó',
  'looked-wet': 'alguien la miró, y está húmeda',
  ended: 'la bandeja ha terminado',
  'potted-on': 'se pasó a bloques mayores',
  covered: 'se cubrió',
  uncovered: 'la cubierta está quitada',
  'taken-back': 'se retiró lo que se había anotado',
  'round-over': 'nadie ha dicho si se regó en la ronda; se mira de nuevo',
};

const WELL_AGAIN: Readonly<Partial<Record<SaidTransition['kind'], string>>> = {
  refill: 'al final aguanta',
  dry: 'sus bloques ya no están secos',
  wet: 'ya no está demasiado húmeda',
  cover: 'ya no hay duda sobre la cubierta',
  temperature: 'otra vez dentro de sus límites',
};

/** In which state an alarm is, before what is wrong. */
function stateWords(words: FarmWords, { state, by, untilMs, nowMs }: SaidTransition): string {
  const who = by === undefined ? '' : ` por ${by}`;
  const until = untilMs === undefined ? '' : `, ${words.time(untilMs, nowMs)}`;
  switch (state) {
    case 'unacknowledged':
      return '';
    case 'acknowledged':
      return `Vista${who}. `;
    case 'normal':
      return 'Hecho. ';
    case 'returned-to-normal-unacknowledged':
      return 'Ha pasado sin que nadie lo viera. ';
    case 'shelved':
      return `Más tarde${until}${who}. `;
    case 'suppressed-by-design':
      return 'Sin llamada por ahora. ';
    case 'out-of-service':
      return `Desconectada${who}. `;
  }
}

function transitionSentence(words: FarmWords, change: SaidTransition): string {
  const state = stateWords(words, change);
  if (concernsWatchman(change.kind)) {
    switch (change.state) {
      case 'normal':
        return `${state}${partWell(change)}`;
      case 'returned-to-normal-unacknowledged':
        return `${state}${partPast(words, change, change.nowMs)}`;
      case 'suppressed-by-design':
        return `${state}${partName(change)} calla con su placa.`;
      default:
        return `${state}${change.sinceMs === undefined ? `${partName(change)}.` : partTrouble(words, change, change.nowMs)}`;
    }
  }
  const name = named(words, change);
  const isOver = ENDINGS[change.reason] !== undefined;
  const ending = `${ENDINGS[change.reason] ?? WELL_AGAIN[change.kind] ?? 'ha pasado'}.`;
  const wrong = `${name}: ${isOver ? ending : trouble(words, change)}`;
  switch (change.state) {
    case 'normal':
    case 'returned-to-normal-unacknowledged':
      return `${state}${name}: ${ending}`;
    case 'shelved':
    case 'out-of-service':
      return `${state}${change.holds ? wrong : `${name}: ahora no pasa nada.`}`;
    default:
      return `${state}${wrong}`;
  }
}

/**
 * The house's sentences in Spanish. Words of the trade from memory, common practice in Spanish nurseries: mesa (de cultivo), bandeja,
 * bloque (de tierra prensada), punto de riego, caída de plántulas; "llamada" for a call, "aviso" for a notice.
 */
export function createSpanish(words: FarmWords): DeskSentences {
  return {
    roundNotice: (notice) => noticeSentence(words, notice),
    call: (call) => callSentence(words, call),
    transition: (change) => transitionSentence(words, change),
    testCall: ({ farm, way, bareSeen }) =>
      `Llamada de prueba de ${farm} por ${way}: no pasa nada. Para contestar${bareSeen ? ', pulse «vista» o' : ''} escriba: drybell call --seen ${way}`,
    ask: ({ trayIds, benchId, roundMs, nowMs }) =>
      `Mesa ${benchId}: ¿se ${form(trayIds.length, 'regó', 'regaron')} ${list(trayIds)} en ${words.round(roundMs, nowMs)}? ${form(trayIds.length, 'Cuenta', 'Cuentan')} como quizá ${form(trayIds.length, 'regada', 'regadas')} hasta que alguien diga si ${form(trayIds.length, 'se regó, o cómo se ve', 'se regaron, o cómo se ven')}.`,
    answers: spanishAnswers(words),
    house: spanishHouse,
  };
}
