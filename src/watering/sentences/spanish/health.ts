import type { ProbeTrouble } from '../../../../shared/facts/probe-trouble.js';
import type { SaidPart } from '../said/desk-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { bare } from './forms.js';
import { list } from './parts.js';

interface TroubleWords {
  readonly now: string;
  readonly past: string;
  readonly remedy: string;
}

const PROBES: Readonly<Record<ProbeTrouble, TroubleWords>> = {
  silent: {
    now: 'no ha enviado nada',
    past: 'no envió nada',
    remedy: 'Mire su enchufe y su cable.',
  },
  'out-of-range': {
    now: 'ha leído lo que no puede ser',
    past: 'leyó lo que no puede ser',
    remedy: 'Mire si está en su sitio y si su cable está entero.',
  },
  'flat-line': {
    now: 'se ha quedado en un solo valor',
    past: 'se quedó en un solo valor',
    remedy: 'Mire si está en su sitio; desenchúfela y enchúfela otra vez.',
  },
  noisy: {
    now: 'ha dado saltos',
    past: 'dio saltos',
    remedy: 'Busque un enchufe flojo o mojado.',
  },
};

function probeTrouble(reason: string): TroubleWords {
  return (
    (PROBES as Readonly<Record<string, TroubleWords>>)[reason] ?? {
      now: `no ha sido de fiar (${reason})`,
      past: `no fue de fiar (${reason})`,
      remedy: 'Mire su enchufe y su cable.',
    }
  );
}

const BOARDS: Readonly<Record<string, string>> = {
  silent:
    'no dice nada: pulse su botón de reinicio; si no ayuda, desenchúfela diez segundos y cargue StandardFirmata',
  unplugged: 'se desenchufó o perdió la corriente: mire su cable USB y su alimentación',
  'no-board': 'no se encuentra: mire su cable',
  'wrong-firmware': 'lleva otro firmware: cargue StandardFirmata',
  connecting: 'se está conectando',
};

/** By the code of what is wrong; what only the part itself knows stands in the log. */
const BROKERS: Readonly<Record<string, string>> = {
  away: 'No hay contacto con el servidor de mensajes: mire si funciona y si la red llega a él.',
  twin: 'Otro monitor de esta finca usa el mismo servidor de mensajes: pare uno de los dos.',
  withheld: 'El servidor de mensajes no reparte lo que se dice: corrija allí los permisos de este usuario.',
  'not-kept': 'El disco no guarda lo que espera a ser dicho: haga sitio.',
  'webhook-away': 'Una pasarela de llamadas no recibe lo que se le envía: mire si funciona y su dirección.',
  'push-away': 'El servicio que avisa a un teléfono no contesta: mire si la casa llega a internet.',
  'push-refused':
    'El servicio que avisa a un teléfono rechazó mensajes y se abandonaron; lo que vale ahora está en la página.',
  'webhook-refused': 'Una pasarela rechazó mensajes y se abandonaron; lo que vale ahora está en la página.',
};

const isClock = ({ kind, of }: Pick<SaidPart, 'kind' | 'of'>): boolean =>
  kind === 'monitor' && of === 'clock';
const CLOCK_WAS_SET = 'El reloj de la casa cambió de golpe: mire si va bien, que las rondas se rigen por él.';
const STORE_REMEDY =
  'Haga sitio en el disco o recupere la base de datos; hasta entonces las lecturas esperan en memoria.';

/** "La sonda moist-t1", "El almacén de datos". */
export function partName({ kind, of }: Pick<SaidPart, 'kind' | 'of'>): string {
  switch (kind) {
    case 'probe':
      return `La sonda ${of}`;
    case 'board':
      return `La placa ${of}`;
    case 'monitor':
      return isClock({ kind, of }) ? 'El reloj' : 'El vigilante';
    case 'store':
      return 'El almacén de datos';
    default:
      return 'El camino de las llamadas';
  }
}

/** What is wrong now and what to do, without since when. */
export function partAilment({ kind, of, reason }: { kind: string; of: string; reason: string }): string {
  switch (kind) {
    case 'board':
      return `La placa ${of} ${BOARDS[reason] ?? `no está bien (${reason})`}.`;
    case 'store':
      return `El almacén de datos no está bien (${reason}). ${STORE_REMEDY}`;
    case 'broker':
      return BROKERS[reason] ?? `Puede que las llamadas no lleguen (${reason}).`;
    case 'monitor':
      return of === 'clock' ? CLOCK_WAS_SET : 'El vigilante no puede con todo: mire usted las bandejas.';
    default:
      return `${of}: ${reason}`;
  }
}

export function partTrouble(words: FarmWords, part: SaidPart, nowMs: number): string {
  const since = `desde ${bare(words.about(part.sinceMs ?? nowMs, nowMs)).replace('hacia', 'cerca de')}`;
  const others = part.others ?? [];
  const names = list([part.of, ...others]);
  switch (part.kind) {
    case 'probe': {
      const { now, remedy } = probeTrouble(part.reason);
      if (others.length > 0)
        return `${others.length + 1} sondas, ${names}: cada una ${now} ${since}. Mire sus enchufes y cables. Hasta entonces solo el modelo vigila lo que ellas vigilaban.`;
      const meanwhile =
        part.watches === undefined ? '' : ` Hasta entonces solo el modelo vigila ${watched(part.watches)}.`;
      return `La sonda ${part.of} ${now} ${since}. ${remedy}${meanwhile}`;
    }
    case 'board': {
      const which = others.length === 0 ? '' : `${others.length + 1} placas no están bien: ${names}. `;
      return `${which}${partAilment(part)} Ninguna sonda en ${others.length === 0 ? 'ella' : 'ellas'} se ha leído ${since}.`;
    }
    case 'monitor':
      if (part.ownSentence !== undefined) return part.ownSentence;
      if (isClock(part)) return CLOCK_WAS_SET;
      return `El vigilante está ciego: ninguna sonda ha enviado nada ${since}. Vaya a mirar las bandejas, y luego placas y cables.`;
    case 'store':
      return `El almacén de datos no está bien ${since}. ${STORE_REMEDY}`;
    default:
      return `Puede que no le hayan llegado llamadas ${since}. ${BROKERS[part.reason] ?? 'Esperan aquí hasta que vuelva el servidor de mensajes.'}`;
  }
}

/** "tray t1", "bench south" as the desk hands it over. */
function watched(watches: string): string {
  return watches.replace(/^tray /, 'la bandeja ').replace(/^bench /, 'la mesa ');
}

export function partPast(words: FarmWords, part: SaidPart, toMs: number): string {
  const span = `desde ${bare(words.time(part.sinceMs ?? toMs, toMs))} hasta ${bare(words.time(toMs, toMs))}, más o menos`;
  switch (part.kind) {
    case 'probe':
      return `La sonda ${part.of} ${probeTrouble(part.reason).past} ${span}.`;
    case 'board':
      return `La placa ${part.of} faltó ${span}; no se leyó ninguna sonda en ella.`;
    case 'monitor':
      if (isClock(part))
        return `El reloj de la casa cambió de golpe, ${words.time(part.sinceMs ?? toMs, toMs)}.`;
      return `El vigilante estuvo ciego ${span}: mire las bandejas.`;
    case 'store':
      return `El almacén de datos no estuvo bien ${span}.`;
    default:
      return `Puede que no le llegaran llamadas ${span}.`;
  }
}

export function partWell(part: SaidPart): string {
  switch (part.kind) {
    case 'board':
      return `La placa ${part.of} responde otra vez.`;
    case 'monitor':
      return isClock(part)
        ? 'El reloj ha seguido con regularidad desde entonces.'
        : 'El vigilante ve otra vez.';
    case 'broker':
      return 'Las llamadas salen otra vez.';
    default:
      return `${partName(part)} está bien otra vez.`;
  }
}
