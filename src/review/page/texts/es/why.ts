import type { en } from '../en/en.js';

/** «¿Por qué?»: en qué se apoya un pronóstico. */
export const esWhy: (typeof en)['why'] = {
  open: '¿Por qué?',
  openFor: (tray) => `¿Por qué? En qué se apoya ${tray}`,
  openCall: 'Por qué llamó',
  title: (tray) => `¿Por qué ${tray}?`,
  driest: 'La décima parte más seca de sus bloques aguanta',
  driestNow: 'La décima parte más seca de sus bloques está en el punto de riego',
  asOf: (when) => `Como estaba ${when}.`,
  lead: (since) =>
    `Lo que ha llegado desde ${since} se quitó, una cosa cada vez, y se hizo de nuevo el pronóstico. El anillo es donde estaría sin ello; la gota, donde está.`,
  weighing: 'Pesando qué lo movió: se repasa el último día…',
  nothing: 'Nada del último día lo movió.',
  movedTitle: 'Qué lo movió',
  supposedTitle: 'Qué lo cambiaría',
  supposedLead: 'Uno de cada diez días es así, por lo que ha visto esta mesa.',
  whyNot: {
    'no-watchman':
      'Esta página solo tiene lo guardado. Qué movió el pronóstico se pesa en la página de la casa que vigila.',
    'too-long-ago':
      'De eso hace más de un día: de entonces se guardan los dibujos, no lo que movió el pronóstico.',
    'not-there': 'La bandeja ya no está en ninguna mesa.',
  },
  kinds: {
    pour: (when, water) => `Regada ${when}, ${water}`,
    filled: 'llena',
    look: (when, look) => `Se veía ${look}, ${when}`,
    weight: (when) => `Pesada ${when}`,
    ready: (when) => `Dicha lista para regar, ${when}`,
    life: (when) => `Sembrada, cubierta o movida, ${when}`,
    probe: (probe, count) => `${count} lecturas de ${probe} en sus bloques`,
    air: (probes, count) => `${count} lecturas del aire (${probes})`,
    light: (probes, count) => `${count} lecturas de la luz (${probes})`,
    others: 'Lo que mostraron entretanto las demás bandejas',
    'own-lessons': 'Cómo se ha secado esta bandeja junto a otras de su tamaño',
    'farm-lessons': 'Cómo se han secado hasta ahora este tamaño y esta mesa',
    cover: 'Su cubierta',
  },
  by: (name) => `dicho por ${name}`,
  supposed: {
    sunny: 'Si sale el sol',
    dull: 'Si sigue nublado',
    'dry-air': 'Si el aire se seca',
    'damp-air': 'Si el aire se humedece',
    cover: 'Si se quita la cubierta',
  },
  later: (span) => `${span} más tarde`,
  sooner: (span) => `${span} antes`,
  atLeast: (span) => `más de ${span}`,
  same: 'la misma hora',
  surer: (span) => `margen ${span} más estrecho`,
  lessSure: (span) => `margen ${span} más ancho`,
  stands: (withIt, without) => `${withIt}, sin ello ${without}`,
  wouldBe: (hours) => `entonces ${hours}`,
  fiveDays: 'más de cinco días',
  fanTitle: 'Lo que se anunció y lo que vino',
  fanLabel: (tray, when) =>
    `Agua en los bloques de ${tray} y el pronóstico hecho ${when} como un abanico hasta el punto de riego. La tabla de abajo tiene los números.`,
  fanLead: (when, soon, late) =>
    `El pronóstico hecho ${when}: el bloque medio en el punto de riego entre ${soon} y ${late}.`,
  hoursAfter: (when) => `horas desde ${when}`,
  came: 'lo que vino',
  beforeTitle: 'Sus últimos secados junto a este',
  beforeLabel: (tray, count) =>
    `Agua en los bloques de ${tray} según las horas desde el riego: este secado y ${count} anteriores. La tabla de abajo tiene los números.`,
  noBefore: 'No se ha secado antes, o no en los dos últimos meses.',
  thisOne: 'ahora',
  hours: 'Horas',
  water: 'Agua, % del bloque',
};
