import type { en } from '../en/en.js';

/** El diario. */
export const esJournal: (typeof en)['journal'] = {
  title: 'Diario',
  lead: 'Todo lo que ha pasado, lo más nuevo primero.',
  write: 'Escribir una nota',
  noteText: 'Nota',
  noteTray: 'Sobre una bandeja',
  noTray: 'la finca',
  keep: 'Guardarla',
  noteLabel: 'Nota guardada',
  none: 'Nada de esto en este tiempo.',
  older: 'Anteriores',
  search: 'Buscar, u otras fechas',
  searchWords: 'Palabras',
  found: (count) => (count === 1 ? '1 entrada encontrada.' : `${count} entradas encontradas.`),
  foundIn: (count) =>
    `Solo se han recorrido las ${count} más nuevas de este tiempo; elija un tiempo más corto para llegar al resto.`,
  pours: (trays) => (trays === 1 ? '1 bandeja regada' : `${trays} bandejas regadas`),
  groups: {
    all: 'Todo',
    water: 'Riegos',
    calls: 'Llamadas',
    rounds: 'Rondas',
    trays: 'Bandejas',
    notes: 'Notas',
    house: 'Casa',
  },
  by: (name) => `por ${name}`,
  undone: 'deshecho',

  watered: {
    filled: (tray) => `${tray} regada, llena`,
    told: (tray, water) => `${tray} regada con ${water}`,
    takenUp: (tray, water) => `${tray} absorbió ${water}, visto por su sonda`,
    detected: (tray) => `${tray} fue regada, visto por su sonda`,
  },
  states: {
    normal: 'pasada',
    unacknowledged: 'llamada',
    acknowledged: 'vista',
    'returned-to-normal-unacknowledged': 'pasada sin que nadie la viera',
    shelved: 'más tarde',
    'suppressed-by-design': 'retenida',
    'out-of-service': 'fuera de servicio',
  },
  alarm: (kind, of, state) => `${kind} ${of}: ${state}`,
  calledAgain: 'Llamada repetida',
  round: (when, due) =>
    due === 0
      ? `Ronda ${when}: nada que regar`
      : `Ronda ${when}: ${due === 1 ? '1 bandeja' : `${due} bandejas`} por regar`,
  drift: (probe, drift) => `${probe} se ha desviado un ${drift} del bloque`,
  online: 'El vigilante está despierto',
  offline: 'El vigilante duerme',
  undoneEvent: (what) => `Deshecho: ${what}`,
  events: {
    new: (tray, size) => `${tray} llegó a la mesa: ${size}`,
    sown: (tray) => `${tray} sembrada`,
    germinated: (tray) => `${tray} germinada`,
    covered: (tray) => `${tray} cubierta`,
    uncovered: (tray) => `${tray} destapada`,
    watered: (tray) => `${tray} regada`,
    moved: (tray, bench) => `${tray} movida a la mesa ${bench}`,
    'potted-on': (tray, to) => `${tray} pasada a bloques mayores en ${to}`,
    weighed: (tray, grams) => `${tray} pesó ${grams} g`,
    looked: (tray, look) => `${tray} se veía ${look}`,
    'ready-for-water': (tray) => `${tray} está lista para regar`,
    attached: (tray, probe) => `Sonda ${probe} puesta en ${tray}`,
    ended: (tray) => `${tray} terminada`,
  },
};
