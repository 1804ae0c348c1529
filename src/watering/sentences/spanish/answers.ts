import { HOURS_PER_DAY } from '../../../../shared/base/time-units.js';
import type { AlarmKind } from '../../../../shared/facts/alarm.js';
import type { CommandName } from '../../../../shared/wire/command.js';
import type { AbsenceOutlook, AnswerSentences, ToldStep, UnknownName } from '../said/answer-sentences.js';
import type { FarmWords } from '../words/farm-words.js';
import { bare, begun, now } from './forms.js';
import { form } from './parts.js';

const LOOKS = { 1: 'seca', 2: 'marrón claro', 3: 'secándose', 4: 'llena', 5: 'saturada' } as const;
const COVERS = { film: 'plástico', 'loose-dome': 'cúpula suelta', 'tight-dome': 'cúpula cerrada' } as const;

const KINDS: Readonly<Record<AlarmKind, string>> = {
  refill: 'necesita agua',
  dry: 'seca',
  wet: 'demasiado húmeda',
  cover: 'cubierta',
  probe: 'sonda',
  board: 'placa',
  monitor: 'vigilante',
  store: 'almacén de datos',
  broker: 'mensajería',
  temperature: 'temperatura',
};
const named = (kind: AlarmKind, of: string): string => `${of} (${KINDS[kind]})`;

/** What was told, by its command. */
export const SPANISH_COMMANDS: Readonly<Record<CommandName, string>> = {
  'new-tray': 'bandeja nueva',
  sown: 'sembrada',
  germinated: 'germinada',
  cover: 'cubierta',
  move: 'mover',
  'pot-on': 'a bloques mayores',
  looked: 'mirada',
  weighed: 'pesada',
  'ready-for-water': 'lista para regar',
  attach: 'poner sonda',
  end: 'terminar',
  watered: 'regada',
  'round-done': 'ronda hecha',
  away: 'fuera',
  back: 'de vuelta',
  acknowledge: 'vista',
  'test-call': 'llamada de prueba',
  'test-seen': 'prueba vista',
  shelve: 'más tarde',
  unshelve: 'recordar ahora',
  'out-of-service': 'fuera de servicio',
  'in-service': 'de nuevo en servicio',
  note: 'nota',
  'list-trays': 'lista de bandejas',
  undo: 'deshacer',
};

const SET_ASIDE: Readonly<Record<string, string>> = {
  shelved: 'ya está dejada para más tarde. Espere a que llame otra vez.',
  'out-of-service': 'ya está desconectada. Conéctela primero.',
  'suppressed-by-design': 'ya calla, con su placa o bajo su cubierta. No hay nada que hacer.',
};

const REMEDIES = {
  enter: 'Mire su nombre, o anótela antes como bandeja nueva.',
  'leave-out': 'Mire su nombre, o no la nombre.',
  'pot-on': 'Para pasar bloques a ella diga su tamaño y número, o anótela antes como bandeja nueva.',
} as const;

const meantWords = ({ meant }: UnknownName): string =>
  meant === undefined ? '' : ` ¿Quería decir «${meant}»?`;

function step(words: FarmWords, tray: string, told: ToldStep): string {
  switch (told.do) {
    case 'new-tray':
      return `La bandeja ${tray} está en la mesa ${told.bench}: ${words.blocksCounted(told.blockCount, told.blockSideMm)}.`;
    case 'sown':
      return `La bandeja ${tray} está sembrada.`;
    case 'germinated':
      return `La bandeja ${tray} ha germinado.`;
    case 'cover':
      return told.cover === 'none'
        ? `La bandeja ${tray} está destapada.`
        : `La bandeja ${tray} está cubierta (${COVERS[told.cover]}).`;
    case 'move':
      return `La bandeja ${tray} está ahora en la mesa ${told.bench}.`;
    case 'pot-on':
      return `La bandeja ${tray} ha pasado a bloques mayores en ${told.toTray}.`;
    case 'looked':
      return `La bandeja ${tray} se ve ${LOOKS[told.level]} (${told.level} de 5).`;
    case 'weighed':
      return `La bandeja ${tray} pesa ${words.weight(told.grams)}.`;
    case 'ready-for-water':
      return `La bandeja ${tray} está lista para regar; de ahí se aprende su punto de riego.`;
    case 'attach':
      return `La sonda ${told.probe} está ahora en la bandeja ${tray}.`;
    case 'end':
      return `La bandeja ${tray} ha terminado.`;
  }
}

function outlook({ mayNotLast, withoutForecast, guessed, lasting }: AbsenceOutlook): string {
  const others = mayNotLast.length + withoutForecast.length + guessed.length > 0;
  const said = [
    mayNotLast.length === 0 ? '' : `Riegue antes de irse, puede que no aguanten: ${mayNotLast.join(', ')}.`,
    withoutForecast.length === 0
      ? ''
      : `Aún sin pronóstico de ${withoutForecast.join(', ')}: mire antes de irse.`,
    guessed.length === 0
      ? ''
      : `Nada mide en ${guessed.join(', ')}: por lo que suelen hacer tales bloques deben aguantar, pero mire antes de irse.`,
    lasting.length === 0
      ? ''
      : `${others ? 'Las demás' : 'Todas las bandejas'} deben aguantar hasta entonces.`,
  ].filter((text) => text !== '');
  return said.length === 0 ? 'No hay bandejas en las mesas.' : said.join(' ');
}

/** Answers to commands in Spanish. */
export function spanishAnswers(words: FarmWords): AnswerSentences {
  const leftOutWords = (trays: readonly string[]): string =>
    trays.length === 0 ? '' : ` Sin regar: ${trays.join(', ')}.`;
  const onBench = (bench: string | undefined): string => (bench === undefined ? '' : ` en la mesa ${bench}`);
  const at = (atMs: number, nowMs: number): string => bare(words.time(atMs, nowMs));
  return {
    noted: () => 'Anotado.',
    toldAlready: (ref) => `La orden «${ref}» ya se cumplió antes; cuenta una vez.`,
    noSuchTray: (unknown, remedy) =>
      `No hay ninguna bandeja «${unknown.name}».${meantWords(unknown)} ${REMEDIES[remedy]}`,
    noSuchBench: (unknown, benches) =>
      `No hay ninguna mesa «${unknown.name}».${meantWords(unknown)} Las mesas son: ${benches.join(', ')}.`,
    noSuchProbe: (probe, probes) =>
      `No hay ninguna sonda de humedad o peso «${probe}»; ${probes.length === 0 ? 'no hay ninguna configurada' : `estas son: ${probes.join(', ')}`}.`,

    trayEnded: (tray) =>
      `La bandeja «${tray}» ha terminado. Deshaga su final en un día, o anote una bandeja nueva.`,
    trayExists: (tray) => `Ya hay una bandeja «${tray}». Termínela primero, o dé otro nombre a la nueva.`,
    sameTray: (tray) =>
      `La bandeja «${tray}» no puede pasar a sí misma. Nombre la bandeja de los bloques mayores.`,
    smallerBlock: (toTray, tray, sideMm) =>
      `La bandeja «${toTray}» no tiene bloques mayores que «${tray}»${sideMm === undefined ? '' : ` (${words.side(sideMm)})`}. Pase a un tamaño mayor, o termine esta bandeja.`,
    smallerBlockGiven: (sideMm, tray, standingSideMm) =>
      `Los bloques de ${words.side(sideMm)} no son mayores que los de «${tray}» (${words.side(standingSideMm)}). Pase a un tamaño mayor, o termine esta bandeja.`,
    blockCountMissing: (sideMm) =>
      `Los bloques de ${words.side(sideMm)} no tienen un número habitual. Diga cuántos hay en la bandeja.`,
    blockSizeMissing: (toTray) =>
      `Aún no hay ninguna bandeja «${toTray}». Diga el tamaño de sus bloques, o nombre una que esté.`,
    standsOtherwise: (tray, blockCount, sideMm, bench) =>
      `La bandeja «${tray}» ya está: ${words.blocksCounted(blockCount, sideMm)} en la mesa ${bench}. No diga tamaño, número ni mesa, o nombre una bandeja nueva.`,
    refillAboveCapacity: () =>
      'El punto de riego debe estar por debajo del contenido de agua de los bloques regados y escurridos. Revise los dos, o no los diga para que se aprendan.',
    impossibleWeight: (tray, grams, { count, sideMm }, limit) =>
      `La bandeja ${tray} no puede pesar ${words.weight(grams)}: ${words.blocksCounted(count, sideMm)} pesan ${'leastG' in limit ? `más de ${words.weight(limit.leastG)} incluso secos del todo` : `menos de ${words.weight(limit.mostG)} incluso empapados y con una bandeja pesada`}. Pese la bandeja entera con todos sus bloques, y compruebe la unidad.`,
    trayStep: (tray, told) => step(words, tray, told),
    traysStanding(perBench) {
      const all = perBench.reduce((sum, { count }) => sum + count, 0);
      const where = perBench.map(({ bench, count }) => `${count} en la mesa ${bench}`).join(', ');
      return all === 0
        ? 'No hay bandejas en las mesas.'
        : `${all === 1 ? 'Hay una bandeja' : `Hay ${all} bandejas`}: ${where}.`;
    },

    whichTrays: () => 'Diga qué bandejas se regaron: una bandeja, una mesa o un tamaño de bloque.',
    misfit({ tray, bench, sideMm }) {
      const reasons = [
        ...(bench === undefined ? [] : [`está en la mesa ${bench.stands}, no en ${bench.told}`]),
        ...(sideMm === undefined
          ? []
          : [`tiene bloques de ${words.side(sideMm.stands)}, no de ${words.side(sideMm.told)}`]),
      ];
      return `${tray} ${reasons.join(', y ')}. Nombre solo la bandeja, o mire cuál se regó.`;
    },
    noTrayStands: (bench) => `No hay bandejas${onBench(bench)}.`,
    noTrayOfSize(sideMm, bench, sidesMm) {
      const known =
        sidesMm.length === 0
          ? 'No hay bandejas'
          : `Tamaños de bloque en uso: ${[...new Set(sidesMm.map(words.side))].join(', ')}`;
      return `No hay ninguna bandeja con bloques de ${words.side(sideMm)}${onBench(bench)}. ${known}.`;
    },
    doseTooLarge: (ml, tray, blocksMl) =>
      `${words.volume(ml)} no pueden haber quedado en la bandeja ${tray}: todos sus bloques juntos son ${words.volume(blocksMl)}. Diga la cantidad de una bandeja, sin lo que se vació.`,
    watered({ atMs, nowMs, trays, ml, before, again, leftOut }) {
      const twice = before.length === 0 ? '' : ` Ya anotadas, cuentan una vez: ${before.join(', ')}.`;
      const left = leftOutWords(leftOut);
      if (trays.length === 0) return `${twice.trim()}${left}`;
      const amount = ml === undefined ? '' : `, ${words.volume(ml)}${form(trays.length, '', ' cada una')}`;
      const further =
        again.length === 0
          ? ''
          : ` Otro riego más: ${again.join(', ')} ${form(again.length, 'se anotó', 'se anotaron')} a menos de media hora de este. Si fue el mismo, deshaga este.`;
      return `${form(trays.length, 'Regada', 'Regadas')} ${words.time(atMs, nowMs)}: ${trays.join(', ')}${amount}.${twice}${further}${left}`;
    },
    noRound: () =>
      'No ha habido ronda hace poco. Diga mejor qué bandejas se regaron: una bandeja, una mesa o un tamaño de bloque.',
    notInNotice: (roundMs, nowMs, stray, listed) =>
      `El aviso de ${words.round(roundMs, nowMs)} no nombra ${stray.join(', ')}. Nombra: ${listed.join(', ') || 'nada'}.`,
    roundDoneDry: (roundMs, nowMs, leftOut) =>
      `${begun(words.round(roundMs, nowMs))} está hecha; no se regó nada.${leftOutWords(leftOut)}`,

    timeToCome: (atMs, nowMs) =>
      `${begun(at(atMs, nowMs))} aún está por venir (aquí ${now(words.clock(nowMs))}). No diga la hora, o mire el reloj de su teléfono.`,
    tooLongAgo: (atMs, nowMs, command, latestH) =>
      `${begun(at(atMs, nowMs))} es hace demasiado: «${SPANISH_COMMANDS[command]}» se puede anotar hasta ${latestH <= 2 * HOURS_PER_DAY ? `${latestH} horas` : `${latestH / HOURS_PER_DAY} días`} después. Mire la fecha, o escriba una nota.`,
    untilInPast: (untilMs, nowMs) => `${begun(at(untilMs, nowMs))} ya pasó. Diga una hora por venir.`,
    absenceTooLong: (days) => `Una ausencia dura como mucho ${days} días. Diga una hora anterior.`,
    shelvedTooLong: (days) =>
      `Una llamada se deja para más tarde como mucho ${days} días. Diga una hora anterior.`,
    away: (untilMs, nowMs, known) => `Fuera hasta ${at(untilMs, nowMs)}. ${outlook(known)}`,
    notAway: () => 'Usted no estaba fuera. No hay nada que hacer.',
    back: () => 'Bienvenido de vuelta. Las rondas siguen.',
    awayNote: (untilMs) => `Fuera hasta el ${words.dated(untilMs)}: las rondas hasta entonces no se hacen`,
    backNote: () => 'De vuelta: las rondas siguen',

    seen: (alarms) => `Vista: ${alarms.map(({ kind, of }) => named(kind, of)).join(', ')}.`,
    noneToSee: (kind, of) =>
      `Ninguna llamada${kind === undefined ? '' : ` de «${KINDS[kind]}»`}${of === undefined ? '' : ` sobre «${of}»`} espera a ser vista. No hay nada que hacer.`,
    noSuchAlarm: (kind, of) =>
      `No hay ninguna llamada de «${KINDS[kind]}» sobre «${of}». Mire la clase y el nombre.`,
    setAsideAlready: (kind, of, state) => `${named(kind, of)} ${SET_ASIDE[state] ?? state}`,
    setAside: (kind, of, untilMs, nowMs) =>
      `${named(kind, of)}: ${untilMs === undefined ? 'desconectada hasta que se ponga de nuevo en servicio' : `más tarde, ${words.time(untilMs, nowMs)}`}.`,
    notSetAside: (kind, of, wanted) =>
      `${named(kind, of)} no está ${wanted === 'shelved' ? 'dejada para más tarde' : 'desconectada'}. No hay nada que hacer.`,
    watchedAgain: (kind, of) => `${named(kind, of)} se vigila otra vez.`,

    testCallGoes: (ways) => `Sale una llamada de prueba por ${ways.join(', ')}.`,
    testSeen: (way) =>
      way === undefined ? 'Vista: la llamada de prueba.' : `Vista: la llamada de prueba por ${way}.`,
    noSuchWay: (way, ways) => `Las llamadas no salen por «${way}». Nombre uno de ${ways.join(', ')}.`,
    noTest: () =>
      'Ninguna llamada de prueba espera esta respuesta. No hay nada que hacer; «drybell call --test» hace una.',

    seenStays: () =>
      'Lo visto queda visto: la norma de alarmas (IEC 62682) no conoce vuelta atrás. Para que llame otra vez déjela para más tarde: pasado ese tiempo llama, si aún vale.',
    nothingToUndo: (ref) =>
      `No hay ninguna orden «${ref}» de las últimas 24 horas que se pueda retirar. Diga mejor lo que es cierto ahora.`,
    restsOnIt({ command, tray, alarm }) {
      const about =
        tray !== undefined
          ? ` de la bandeja ${tray}`
          : alarm === undefined
            ? ''
            : ` (${alarm.kind === undefined ? alarm.of : named(alarm.kind, alarm.of)})`;
      return `«${SPANISH_COMMANDS[command]}»${about} vino después y se apoya en ello. Deshaga eso primero.`;
    },
    undone: (command, trays) =>
      `Deshecho: ${SPANISH_COMMANDS[command]}${trays.length === 0 ? '' : ` (${trays.join(', ')})`}.`,
    undoneAlarm: (kind, of) => `Deshecho: ${named(kind, of)} se vigila otra vez.`,
    undoneAbsence: (awayUntilMs, nowMs) =>
      awayUntilMs === undefined
        ? 'Deshecho: usted no está fuera. Las rondas siguen.'
        : `Deshecho: fuera hasta ${at(awayUntilMs, nowMs)}.`,
  };
}
