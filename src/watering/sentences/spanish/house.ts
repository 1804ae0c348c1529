import type { TrayEvent } from '../../../../shared/facts/tray-life.js';
import type { BoardState, HouseSentences, SaidClockStep, Undertaking } from '../said/house-sentences.js';
import { SPANISH_COMMANDS } from './answers.js';
import { partAilment } from './health.js';

const MS_PER_MIN = 60_000;
const MIN_PER_H = 60;
const MIN_PER_DAY = 1440;

function duration(ms: number): string {
  const minutes = Math.round(ms / MS_PER_MIN);
  const days = Math.floor(minutes / MIN_PER_DAY);
  const hours = Math.floor((minutes % MIN_PER_DAY) / MIN_PER_H);
  const parts = [
    days > 0 ? `${days} ${days === 1 ? 'día' : 'días'}` : '',
    hours > 0 ? `${hours} h` : '',
    days === 0 && minutes % MIN_PER_H > 0 ? `${minutes % MIN_PER_H} min` : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}

function clockStep({ shiftMs, skippedMs, why }: SaidClockStep): string {
  switch (why) {
    case 'set-back':
      return `El reloj de la casa se atrasó ${duration(-shiftMs)}. No se perdió nada y ninguna bandeja ha envejecido por ello; mire si va bien ahora, que las rondas se rigen por él.`;
    case 'set-forward':
      return skippedMs < MS_PER_MIN
        ? `El reloj de la casa se adelantó ${duration(shiftMs)}, a donde había estado antes. Mire si va bien ahora, que las rondas se rigen por él.`
        : `El reloj de la casa saltó ${duration(shiftMs + skippedMs)} hacia delante: la máquina durmió, o cambiaron su hora. Se supone que las bandejas se secaron todo ese tiempo; mírelas, y mire si el reloj va bien.`;
    case 'stood-still':
      return `El monitor estuvo parado ${duration(skippedMs)} y no leyó nada. Mire las bandejas, y qué más tiene que hacer la máquina.`;
  }
}

const MISTAKE = 'por un error de este programa';
const REPORT = 'comuníquelo con el registro';

const NOT_DONE: Readonly<Record<Undertaking, string>> = {
  decision: `No se ha podido decidir ahora qué bandejas necesitan a alguien, ${MISTAKE}: mírelas usted. Se intenta otra vez cada diez minutos; ${REPORT}.`,
  'round-notice': `No se ha podido escribir el aviso de la próxima ronda, ${MISTAKE}: mire todas las bandejas en esa ronda, y ${REPORT}.`,
  forecasts: `No se han podido hacer los pronósticos de esta hora, ${MISTAKE}: los que se ven son anteriores. Se intenta otra vez cada hora; ${REPORT}.`,
  reading: `No se ha podido usar una lectura, ${MISTAKE}: se guarda y se muestra, y los pronósticos siguen sin ella; ${REPORT}.`,
};

const EVENTS: Readonly<Record<TrayEvent['event'], string>> = {
  new: 'bandeja nueva',
  sown: 'sembrada',
  germinated: 'germinada',
  covered: 'cubierta',
  uncovered: 'destapada',
  watered: 'regada',
  moved: 'movida',
  'potted-on': 'a bloques mayores',
  weighed: 'pesada',
  looked: 'mirada',
  'ready-for-water': 'lista para regar',
  attached: 'sonda puesta',
  ended: 'terminada',
};

/** How a board is, and what a person can do about it. What the line said stands in the words of this machine. */
function boardWords(board: string, state: BoardState, finding: string): string {
  switch (state) {
    case 'ready':
      return `La placa ${board} responde.`;
    case 'connecting':
      return `La placa ${board} se está conectando.`;
    case 'no-board':
      return `No se llega a la placa ${board} (${finding}): mire su cable.`;
    case 'wrong-firmware':
      return `La placa ${board} está enchufada, pero lleva otro programa (${finding}): cargue StandardFirmata (firmware-notes/README.md).`;
    case 'silent':
      return `La placa ${board} está enchufada pero no dice nada: pulse su botón de reinicio; si no basta, desenchúfela diez segundos y luego cargue StandardFirmata (firmware-notes/README.md).`;
    case 'unplugged':
      return `La placa ${board} se desenchufó o se quedó sin corriente (${finding}): mire su cable USB, el concentrador y la alimentación.`;
  }
}

/** What the house says of itself in Spanish. */
export const spanishHouse: HouseSentences = {
  ailment: ({ kind, source, reason, ownSentence }) =>
    kind === 'board' || kind === 'monitor'
      ? (ownSentence ?? partAilment({ kind, of: source, reason }))
      : partAilment({ kind, of: source, reason }),
  asItIs: (words) => words,
  board: boardWords,
  clockStep,
  notDone: (what) => NOT_DONE[what],
  notCarriedOut: (command) =>
    `«${SPANISH_COMMANDS[command]}» no se pudo cumplir, ${MISTAKE}. Se deja a un lado: nada ha cambiado. Diga de otra manera lo que es cierto ahora, y ${REPORT}.`,
  eventNotCarriedOut: (event, tray) =>
    `«${EVENTS[event]}» de la bandeja ${tray} no se pudo cumplir, ${MISTAKE}. Nada ha cambiado; ${REPORT}.`,
  cutOff: (command, tray, at) =>
    `El monitor se cayó (${at}) mientras cumplía «${SPANISH_COMMANDS[command]}»${tray === undefined ? '' : ` (${tray})`}. Se deja a un lado: no ha pasado nada de ello. Mire la bandeja, y anótelo otra vez si sigue siendo cierto.`,
  notKeptYet: () =>
    'Aún no está en el disco, que no admite nada: se pierde si antes se va la luz. Haga sitio.',
  keptAfterAll: () => 'Lo que se contestó «aún no está en el disco» ya está en el disco.',
  goneWithoutWord: () => 'El monitor se ha ido sin decir nada. Vaya a mirarlo: nadie vigila las bandejas.',
  stopped: () => 'El monitor se ha parado.',
  late: (sentence, when, { webhook, phone }) => {
    const at = webhook === undefined ? 'el servidor de mensajes' : `la pasarela «${webhook}»`;
    return `Del ${when}, retenido en ${phone ? 'el servicio de avisos' : at}: ${sentence}`;
  },
  phoneTried: () =>
    'Aquí avisará este teléfono cuando las bandejas no puedan esperar. Solo una prueba: no pasa nada.',
  onlyTheStore: () =>
    'Esta página solo muestra lo guardado. Anótelo en la página de la casa que vigila la bandeja.',
};
