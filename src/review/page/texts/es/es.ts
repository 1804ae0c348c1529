import type { en } from '../en/en.js';
import { esCalls } from './calls.js';
import { esHouses } from './houses.js';
import { esJournal } from './journal.js';
import { esReview } from './review.js';
import { esSeason } from './season.js';
import { esTray } from './tray.js';
import { esWhy } from './why.js';

/**
 * Todas las palabras de la página en español. Términos del oficio, de memoria (práctica común de semilleros): mesa (de cultivo),
 * bandeja, bloque (de tierra prensada), punto de riego, riego por debajo, caída de plántulas. «Llamada» es lo que no puede esperar;
 * «aviso», lo que se dice antes de cada ronda.
 */
export const es: typeof en = {
  locale: 'es-ES',
  views: { now: 'Ahora', curves: 'Curvas', water: 'Agua', probes: 'Sondas', journal: 'Diario' },
  viewsLabel: 'Vistas de la finca',
  skip: 'Saltar la cabecera',

  hours: {
    minutesShort: 'min',
    hoursShort: 'h',
    daysShort: 'd',
    dryNow: 'seca',
    beyondFigure: '5+',
    spoken: (middle, low, high) => (low === high ? middle : `${middle}, de ${low} a ${high}`),
  },
  clock: {
    tomorrow: 'mañana',
    yesterday: 'ayer',
    justNow: 'ahora mismo',
    ago: (span) => `hace ${span}`,
    farmTime: 'Hora de la finca',
    runsFast: (speed) => `Demostración: el reloj va ${speed} veces más rápido`,
  },

  contact: {
    connecting: 'Buscando la casa…',
    lost: (since, age) =>
      `Sin contacto desde ${since} (${age}). Así estaba la finca entonces. Lo que anote se guarda en este teléfono y se dice cuando vuelva.`,
    never: 'Sin contacto con la casa, y este teléfono no ha visto antes la finca.',
    past: (when, ago) =>
      `El pasado: lo último que se sabe es de ${when} (${ago}). Todo está aquí como estaba entonces.`,
    readOnly: 'Esta página solo muestra lo guardado; no hay vigilante a quien decirle nada.',
    waiting: (count) =>
      count === 1 ? 'Una cosa espera a ser dicha.' : `${count} cosas esperan a ser dichas.`,
  },

  door: {
    title: 'En la puerta',
    ask: 'Palabra de acceso de la finca',
    enter: 'Entrar',
    refusals: {
      'wrong-word': 'Esa no es la palabra de acceso; está en page.accessWord.',
      'too-many-tries': 'Demasiadas palabras equivocadas; espere un poco y pruebe otra vez.',
      busy: 'Se están mirando demasiadas palabras; pruebe otra vez en un momento.',
    },
  },

  tell: {
    noContact: 'No anotado: sin contacto con la casa.',
    noAnswer: 'Sin respuesta en diez segundos: puede que se haya anotado o puede que no.',
    waiting: 'Guardado en este teléfono; se anota, con esta hora, cuando vuelva la casa.',
    onlyHere:
      'No hay sitio en este teléfono para guardarlo: deje la página abierta hasta que la casa vuelva.',
    takenBack: 'Retirado antes de anotarse.',
    tooLate: 'No se anotó en un día. Diga lo que es cierto ahora.',
    interrupted: 'La página se cerró antes de la respuesta: puede que se haya anotado o puede que no.',
    sending: 'Anotando…',
    undo: 'Deshacer',
    undone: 'Deshecho',
    again: 'Anotar otra vez',
    dismiss: 'Cerrar',
    refusals: {
      'malformed-command':
        'No se ha entendido: esta página y la casa son de versiones distintas. Ábrala de nuevo.',
      'word-needed': 'La página pide antes la palabra de acceso de la finca; ábrala de nuevo.',
      'other-site': 'Solo se acepta desde esta página, no desde otro sitio.',
      'unknown-host': 'La página no se conoce por esta dirección: use otra, o añádala en page.hostNames.',
      'too-large': 'Demasiado de una vez: una nota tiene como mucho 2000 letras.',
      'no-photo': 'Eso no es una foto que se pueda guardar. No se ha guardado nada.',
      'photo-too-large': 'La foto es demasiado grande. No se ha guardado nada.',
      'photos-full':
        'Las fotos ocupan todo su sitio (page.photosMb). La nota no se ha guardado: escríbala sin la foto, o dé más sitio a las fotos.',
      failed: 'La casa no ha podido hacerlo; su registro dice por qué.',
    },
    toldTitle: 'Anotado hoy desde este teléfono',
    toldNone: 'Nada todavía.',
    states: {
      sending: 'en camino',
      done: 'anotado',
      refused: 'rechazado',
      waiting: 'espera a ser anotado',
      'not-told': 'no anotado',
      undone: 'deshecho',
    },
  },

  now: {
    title: 'Ahora',
    round: (when) => `Ronda ${when}`,
    nextRound: (when) => `Próxima ronda ${when}`,
    roundIn: (span) => `en ${span}`,
    nothingDue: 'Nada que regar',
    waterTrays: (count) => (count === 1 ? 'Regar 1 bandeja' : `Regar ${count} bandejas`),
    stillToWater: (count) =>
      count === 1 ? 'Queda 1 bandeja por regar' : `Quedan ${count} bandejas por regar`,
    leftFrom: (when, ago) => `Queda de la ronda de ${when}, ${ago}.`,
    pastTitle: (when) => `La finca el ${when}`,
    allDone: (count) =>
      count === 1
        ? 'La bandeja de esta ronda está regada'
        : `Las ${count} bandejas de esta ronda están regadas`,
    allDoneAt: (count, when) =>
      count === 1
        ? `Ronda ${when}: la bandeja está regada`
        : `Ronda ${when}: las ${count} bandejas están regadas`,
    altogether: (water) => `${water} en total`,
    noticeAt: (when) => `Lo que hay que regar se decide ${when}`,
    noticeAsSent: (when) => `El aviso como se envió ${when}`,
    awayUntil: (when) => `Fuera hasta ${when}`,
    noTrays: 'Aún no hay bandejas en las mesas.',
    noTraysHow: 'Coloque la primera con «Bandeja nueva».',
    callsTitle: 'Llamadas',
    dueTitle: 'Regar ahora',
    dueTitleAt: (when) => `Regar ${when}`,
    waitsTitle: 'Pueden esperar',
    benchTitle: (bench) => `Mesa ${bench}`,
    humidity: (share) => `${share} HR`,
    fromAbove: 'desde arriba',
    legend: 'Los bloques se dibujan con el color de la tierra: pálido es seco, oscuro es lleno.',
    leftSpoken: (hours) => `Los bloques más secos aguantan ${hours}`,
    leftSpokenDry: 'Los bloques más secos están secos',
    dryAbout: (when) => `bloques más secos, secos ${when}`,
    unknownLeft: 'aún sin pronóstico',
    endedLeft: (when) => `sin pronóstico desde ${when}`,
    lastsUntil: (when) => `aguanta más allá de ${when}`,
    lastsNotSure: 'hasta el aviso',
    fullShare: (share) => `${share} llena`,
    belowRefill: 'por debajo del punto de riego',
    dose: (water) => water,
    pours: (count, each, soakMin) =>
      `${count} veces ${each}, con ${Math.round(soakMin)} min para absorber entre ellas`,
    onePour: 'de una vez',
    notFull: 'después no quedará llena',
    perhaps: 'Quizá ya regada: mire primero',
    watered: 'Regada',
    wateredAt: (when) => `regada ${when}`,
    open: (tray) => `Más sobre ${tray}`,
    more: 'Más',
    newTray: 'Bandeja nueva',
    away: 'Fuera',
  },

  roundDone: {
    start: 'Ronda hecha',
    title: '¿Cuáles recibieron agua?',
    hint: 'Quite las bandejas que no regó.',
    all: (count) => (count === 1 ? 'La bandeja está regada' : `Las ${count} están regadas`),
    except: (left, count) => `${count - left} regadas, ${left} no`,
    label: 'Ronda hecha',
    labelExcept: (trays) => `Ronda hecha, salvo ${trays}`,
    cancel: 'Aún no',
  },

  call: {
    seen: 'Vista',
    later: 'Más tarde',
    doneWatered: (tray) => `Hecho: ${tray} regada`,
    doneUncovered: (tray) => `Hecho: ${tray} destapada`,
    allSeen: (count) => `Las ${count} vistas`,
    seenLabel: (what) => `Vista: ${what}`,
    laterLabel: (what, when) => `Más tarde (${when}): ${what}`,
    laterOpen: (what) => `Más tarde: ${what}`,
    laterTitle: 'Recordar otra vez',
    in: (span) => `en ${span}`,
    atRound: (when) => `en la ronda, ${when}`,
    seenBy: (by) => `vista por ${by}`,
    seenAlready: 'vista',
    laterUntil: (when) => `más tarde, ${when}`,
    over: 'pasada sin que nadie la viera',
    outOfService: 'fuera de servicio',
    held: 'retenida por diseño',
    wakeAgain: 'Recordar ahora',
    backInService: 'De nuevo en servicio',
    kinds: {
      refill: 'Necesita agua',
      dry: 'Seca',
      wet: 'Demasiado húmeda',
      cover: 'Aún cubierta',
      probe: 'Sonda',
      board: 'Placa',
      monitor: 'Vigilante',
      store: 'Almacén de datos',
      broker: 'Mensajería',
      temperature: 'Temperatura',
    },
    plain: (kind, of) => `${kind}: ${of}`,
  },

  testCall: {
    title: 'Llamada de prueba',
    sent: (when) =>
      `Enviada ${when}. No pasa nada. Si le ha llegado, pulse: así sabemos que las llamadas llegan.`,
    came: (way) => (way === 'mqtt' ? 'Llegó a la aplicación MQTT' : `Llegó por ${way}`),
  },

  own: {
    title: 'Este teléfono',
    language: { title: 'Idioma de la página', farm: 'Como la finca' },
    name: 'Su nombre, que va con lo que anota',
    light: {
      title: 'Luz para leer',
      choices: { phone: 'Como el teléfono', day: 'Día', sun: 'Al sol', night: 'Noche' },
    },
    keptTitle: 'Sin la red',
    kept: 'Este teléfono guarda la página: se abre sin la red, muestra la finca como estaba y dice después lo que usted anotó. Póngala en la pantalla de inicio desde el menú del navegador.',
    notKept:
      'Una página abierta sigue sin la red, pero este teléfono no puede abrirla de nuevo entonces: los navegadores solo guardan páginas que llegan por https. Déjela abierta, o ponga delante un servidor con certificado.',
    away: {
      title: 'Fuera',
      hint: 'Nadie puede regar hasta entonces: las rondas anteriores no cuentan, y lo que se secaría se dice antes.',
      until: (when) => `Fuera hasta ${when}`,
      back: 'De vuelta',
    },
  },

  calls: esCalls,
  tray: esTray,
  review: esReview,
  journal: esJournal,
  houses: esHouses,
  why: esWhy,
  season: esSeason,
};
